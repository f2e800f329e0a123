package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stead/cmd/stead/internal/terminal"
)

// flagError says in words what is wrong with a flag.
func flagError(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var wrong *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown):
		name := "--" + unknown.GetSpecifiedName()
		if shorts := unknown.GetSpecifiedShortnames(); shorts != "" {
			name = "-" + unknown.GetSpecifiedName()
			if strings.ContainsAny(shorts[:1], "0123456789") {
				return usage(cmd, fmt.Errorf("-%s is below zero, which nothing here is: write it without the minus sign", shorts))
			}
		}
		err = fmt.Errorf("there is no flag %s", name)
	case errors.As(err, &wrong):
		form := map[string]string{"int": "a whole number", "int64": "a whole number", "count": "a whole number from 1 on", "float64": "a number", "bool": "true or false"}[wrong.GetFlag().Value.Type()]
		if form == "" {
			err = fmt.Errorf("--%s: %w", wrong.GetFlag().Name, wrong.Unwrap())
			break
		}
		err = fmt.Errorf("--%s is %s, not %q", wrong.GetFlag().Name, form, wrong.GetValue())
	}
	return usage(cmd, err)
}

// listed is how help lists flags: to the terminal's width, and what each takes in a person's words.
func listed(flags *pflag.FlagSet) string {
	words := map[string]string{"string": "text", "stringArray": "text", "int": "number", "count": "number", "int64": "number", "float64": "number"}
	type kept struct {
		value    pflag.Value
		standard string
	}
	was := map[*pflag.Flag]kept{}
	flags.VisitAll(func(f *pflag.Flag) {
		if f.DefValue == "-1" { // no number that can be given, for a flag that is not
			was[f] = kept{f.Value, f.DefValue}
			f.DefValue = "0"
		}
		if word := words[f.Value.Type()]; word != "" {
			if _, again := was[f]; !again {
				was[f] = kept{f.Value, f.DefValue}
			}
			f.Value, f.DefValue = called{f.Value, word}, strings.TrimPrefix(f.DefValue, "[]")
		}
	})
	out := flags.FlagUsagesWrapped(terminal.Width)
	for f, k := range was {
		f.Value, f.DefValue = k.value, k.standard
	}
	return out
}

// called is a flag's value under another name for what it takes.
type called struct {
	pflag.Value
	word string
}

func (c called) Type() string { return c.word }

// count is a flag that takes a whole number from 1 on.
type count struct{ into *int }

func (c count) String() string {
	if c.into == nil {
		return ""
	}
	return strconv.Itoa(*c.into)
}

func (c count) Type() string { return "count" }

func (c count) Set(text string) error {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return errors.New("a whole number from 1 on is wanted")
	}
	*c.into = n
	return nil
}

// needed makes a command say so when one of these flags is left out.
func needed(cmd *cobra.Command, names ...string) {
	args := cmd.Args
	cmd.Args = func(cmd *cobra.Command, given []string) error {
		if err := args(cmd, given); err != nil {
			return err
		}
		for _, name := range names {
			if f := cmd.Flags().Lookup(name); f.Value.String() == "" {
				return usage(cmd, fmt.Errorf("--%s is needed: %s", name, f.Usage))
			}
		}
		return nil
	}
}

// readsFile marks a flag as one that names a file: a shell completes it, and a request is named by the file's content too.
func readsFile(cmd *cobra.Command, flag string) {
	if err := cmd.MarkFlagFilename(flag); err != nil {
		panic(err) // there is no such flag
	}
}

// oneOf is a flag that takes one of a few words.
type oneOf[T ~string] struct {
	into  *T
	words []T
}

func (o oneOf[T]) String() string {
	if o.into == nil {
		return ""
	}
	return string(*o.into)
}

func (o oneOf[T]) Type() string { return "word" }

func (o oneOf[T]) Set(text string) error {
	if !slices.Contains(o.words, T(text)) {
		return fmt.Errorf("write one of %s, not %q", o.List(), text)
	}
	*o.into = T(text)
	return nil
}

func (o oneOf[T]) List() string {
	var words []string
	for _, w := range o.words {
		words = append(words, string(w))
	}
	return strings.Join(words, ", ")
}
