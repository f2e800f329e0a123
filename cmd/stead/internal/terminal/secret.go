package terminal

import (
	"context"

	"golang.org/x/term"
)

// Secret reads a line that is not shown while it is typed. When ctx ends the terminal shows again what is typed, although
// the reading itself cannot be broken off: the program ends over it, and would leave the terminal blind.
func Secret(ctx context.Context, fd int) ([]byte, error) {
	shown, err := term.GetState(fd)
	if err != nil {
		return nil, err
	}
	defer context.AfterFunc(ctx, func() { _ = term.Restore(fd, shown) })() // as it was, as far as it lets us
	return term.ReadPassword(fd)
}
