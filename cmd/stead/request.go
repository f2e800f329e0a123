package main

import (
	"context"
	"crypto/sha256"
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stead/inventory"
)

// change does a user's change as one transaction under the request key that the user gave, or a new one. What the key
// stands for is everything that the command was given; see requestName.
func change[T any](cmd *cobra.Command, w *workshop, do func(ctx context.Context, tx pgx.Tx, key string) (T, error)) (T, error) {
	var none T
	key, _ := cmd.Flags().GetString("request")
	if key == "" {
		key = inventory.NewKey()
	}
	what, err := requestName(cmd)
	if err != nil {
		return none, err
	}
	pool, err := w.open(cmd.Context())
	if err != nil {
		return none, err
	}
	out, again, err := inventory.Once(cmd.Context(), pool, key, what, func(ctx context.Context, tx pgx.Tx) (T, error) {
		return do(ctx, tx, key)
	})
	if again && err == nil {
		fmt.Fprintf(cmd.ErrOrStderr(), "request %q was carried out before: nothing was changed\n", key)
	}
	return out, err
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

// contentOf tells the contents of files apart.
func contentOf(path string) (string, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer f.Close() // only read from
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return "", fmt.Errorf("read %s: %w", path, err)
	}
	return fmt.Sprintf("(content %x)", sum.Sum(nil)[:8]), nil
}
