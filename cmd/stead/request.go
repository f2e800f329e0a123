package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/crypto/argon2"

	"stead/cmd/stead/internal/remember"
	"stead/inventory"
	"stead/migrations/privatepg"
)

// change does a user's change as one transaction under the request key that the user gave, or a new one. What the key
// stands for is everything that the command was given; see requestName. A new key is remembered until the change's end
// is known, and taken up again by the very same command.
func change[T any](cmd *cobra.Command, w *workshop, do func(ctx context.Context, tx pgx.Tx, key string) (T, error)) (T, error) {
	var none T
	what, err := requestName(cmd)
	if err != nil {
		return none, err
	}
	pool, err := w.open(cmd.Context())
	if err != nil {
		return none, err
	}
	key, _ := cmd.Flags().GetString("request")
	var kept *remember.Kept
	if key == "" {
		key = inventory.NewKey()
		begun := remember.Change{Key: key, What: what, Database: whereIs(pool), Begun: now()}
		// A folder that cannot be written to is no reason not to do the change: after a cut its key is said, to be typed.
		if kept, err = remember.Begin(requestFolder(), begun); err == nil {
			key = kept.Key
		}
	}
	w.tried = true
	deed := deedOf(cmd.Context())
	deed.begins(key, kept != nil || cmd.Flags().Changed("request"))
	out, again, err := inventory.Once(inventory.At(cmd.Context(), now()), pool, key, what, func(ctx context.Context, tx pgx.Tx) (T, error) {
		return do(ctx, tx, key)
	})
	done := ""
	if err == nil && !again {
		done = "what was asked is done all the same, and only its answer is missing: do not repeat the command"
	}
	deed.ended(done)
	switch unknown := errors.As(err, new(*inventory.UncertainError)); {
	case kept == nil:
	case unknown:
		kept.Leave()
	default:
		kept.Forget(requestFolder())
	}
	switch {
	case err != nil:
		return out, err
	case again && kept != nil:
		sayDoneBefore(cmd, kept.Change)
	case again:
		complain(cmd.ErrOrStderr(), fmt.Sprintf("request %q was carried out before: nothing was changed", key))
	}
	return out, nil
}

func sayDoneBefore(cmd *cobra.Command, c remember.Change) {
	complain(cmd.ErrOrStderr(), fmt.Sprintf("this very command was given on %s and broke off; it was done then, the database says, so nothing was changed now (to do it once more, give it again)",
		c.Begun.Format("2006-01-02 at 15:04")))
}

// doneBefore tells whether a command that fails before it comes to its change was left by an earlier run and done then:
// what it looks for may be gone for that very reason.
func doneBefore(cmd *cobra.Command, w *workshop) bool {
	if w.pool == nil || w.tried || cmd.Flags().Changed("request") {
		return false
	}
	left, err := remember.All(requestFolder())
	if err != nil || len(left) == 0 {
		return false
	}
	what, err := requestName(cmd)
	if err != nil {
		return false
	}
	for _, c := range left {
		if c.What != what || c.Database != whereIs(w.pool) {
			continue
		}
		if r, err := inventory.AskRequest(cmd.Context(), w.pool, c.Key); err == nil && r != nil {
			remember.ForgetKey(requestFolder(), c.Key)
			sayDoneBefore(cmd, c)
			return true
		}
	}
	return false
}

// whereIs names a database apart from others, without its password.
func whereIs(pool *pgxpool.Pool) string {
	at := pool.Config().ConnConfig
	return fmt.Sprintf("%s at %s:%d", at.Database, at.Host, at.Port)
}

// requestFolder is where the keys of changes are kept whose end is not known; "" where there is no place for data.
func requestFolder() string {
	dir, err := privatepg.DefaultDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "requests")
}

// aside are the flags that do not change what a command does to its database.
var aside = []string{"database", "json", "request"}

// requestName is what a command was asked to do, all of it: its path, its arguments, every flag that was given, in the
// order of their names, and a digest of each file that it reads. The same key with another name is another request.
func requestName(cmd *cobra.Command) (string, error) {
	_, path, _ := strings.Cut(cmd.CommandPath(), " ")
	words := []string{path}
	takes := strings.Fields(cmd.Use)[1:]
	for i, arg := range cmd.Flags().Args() {
		words = append(words, quoted(arg))
		if i < len(takes) && strings.Trim(takes[i], "[]") == "FILE" {
			digest, err := contentOf(arg)
			if err != nil {
				return "", err
			}
			words = append(words, digest)
		}
	}
	var bad error
	cmd.Flags().Visit(func(f *pflag.Flag) {
		if slices.Contains(aside, f.Name) {
			return
		}
		words = append(words, "--"+f.Name+"="+quoted(f.Value.String()))
		if _, isFile := f.Annotations[cobra.BashCompFilenameExt]; isFile {
			digest, err := contentOf(f.Value.String())
			if _, secret := f.Annotations[secretFile]; secret && err == nil {
				digest, err = secretOf(f.Value.String(), strings.Join(words, " "))
			}
			if err != nil {
				bad = fmt.Errorf("--%s: %w", f.Name, err)
				return
			}
			words = append(words, digest)
		}
	})
	return strings.Join(words, " "), bad
}

var plain = regexp.MustCompile(`^[\pL\pN_.,:=/+-]+$`)

// quoted writes a word so that where it begins and ends is beyond doubt.
func quoted(word string) string {
	if plain.MatchString(word) {
		return word
	}
	return fmt.Sprintf("%q", word)
}

// secretFile marks a flag whose file holds a password or a PIN.
const secretFile = "stead-secret-file"

// secretOf tells two secrets apart as slowly as a sign-in does: the names of requests are kept, and a quick digest of a PIN
// would be as good as the PIN.
func secretOf(path, salt string) (string, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("(secret %x)", argon2.IDKey(text, []byte("stead "+salt), 2, 19*1024, 1, 8)), nil
}

// contentOf tells the contents of files apart, and those of folders of files.
func contentOf(path string) (string, error) {
	files := []string{path}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		entries, err := os.ReadDir(path) // by name
		if err != nil {
			return "", err
		}
		files = nil
		for _, e := range entries {
			if e.Type().IsRegular() {
				files = append(files, filepath.Join(path, e.Name()))
			}
		}
	}
	sum := sha256.New()
	for _, name := range files {
		if err := addContent(sum, name, len(files) != 1 || name != path); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("(content %x)", sum.Sum(nil)[:8]), nil
}

// addContent adds a file to a sum, after its name where it is one of several.
func addContent(sum io.Writer, name string, named bool) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close() // only read from
	if named {
		fmt.Fprintf(sum, "%q\n", filepath.Base(name))
	}
	if _, err := io.Copy(sum, f); err != nil {
		return fmt.Errorf("read %s: %w", name, err)
	}
	return nil
}
