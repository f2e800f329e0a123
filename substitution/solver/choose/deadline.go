package choose

import "context"

// deadline is when to stop: the context of a call, asked often enough that every phase of the work ends soon after it.
// Once it has passed it stays passed, and what was half done is not used.
type deadline struct {
	ctx    context.Context
	passed bool
}

func (d *deadline) ended() bool {
	d.passed = d.passed || d.ctx.Err() != nil
	return d.passed
}
