package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// What comes in from the command line is checked here once for all commands: what no text and no number of the database
// can be never reaches it.

const (
	longest    = 2000          // letters of one text
	mostCount  = 1_000_000_000 // of a whole number, but for the number of a job or an order
	mostDigits = 12            // before the point of a number
	mostPlaces = 8             // after it
)

// checkInput looks at every argument and flag that a command was given.
func checkInput(cmd *cobra.Command, args []string) error {
	takes := strings.Fields(cmd.Use)[1:]
	for i, arg := range args {
		name := "argument " + strconv.Itoa(i+1)
		if i < len(takes) && takes[i] != "…" {
			name = strings.Trim(takes[i], "[]…")
		}
		if err := text(name, arg, false); err != nil {
			return usage(cmd, err)
		}
	}
	var bad error
	cmd.Flags().Visit(func(f *pflag.Flag) {
		if bad == nil {
			bad = flagInBounds(f)
		}
	})
	return usage(cmd, bad)
}

func flagInBounds(f *pflag.Flag) error {
	value := f.Value.String()
	switch f.Value.Type() {
	case "int", "count":
		if n, err := strconv.ParseInt(value, 10, 64); err == nil && (n > mostCount || n < -mostCount) {
			return fmt.Errorf("--%s: %s cannot be meant: a thousand million is the most", f.Name, value)
		}
	case "float64":
		if x, err := strconv.ParseFloat(value, 64); err == nil && (math.IsNaN(x) || math.Abs(x) > mostCount) {
			return fmt.Errorf("--%s: %s cannot be meant: give a number in figures", f.Name, value)
		}
	}
	if list, ok := f.Value.(pflag.SliceValue); ok {
		for _, one := range list.GetSlice() {
			if err := text("--"+f.Name, one, true); err != nil {
				return err
			}
		}
		return nil
	}
	return text("--"+f.Name, value, true)
}

// text checks what is to be kept as text. Only what a flag gives may have several lines.
func text(name, s string, lines bool) error {
	if !utf8.ValidString(s) {
		return fmt.Errorf("%s holds bytes that are not UTF-8 (%q): write it anew, with the terminal set to UTF-8", name, s)
	}
	if n := utf8.RuneCountInString(s); n > longest {
		return fmt.Errorf("%s has %d letters, and %d are the most: shorten it", name, n, longest)
	}
	for _, r := range s {
		if (r == '\n' || r == '\t') && lines {
			continue
		}
		if unicode.IsControl(r) {
			return fmt.Errorf("%s holds the control character U+%04X: take it out", name, r)
		}
	}
	return nil
}

// number reads a number in figures. One with more figures than anything in a workshop has is none: 1e999999999 would take
// all memory before anybody could refuse it.
func number(s string) (decimal.Decimal, error) {
	if strings.ContainsAny(s, "eE") {
		return decimal.Decimal{}, fmt.Errorf("%q is not written in figures", s)
	}
	whole, places, _ := strings.Cut(strings.TrimLeft(s, "+-0"), ".")
	if len(whole) > mostDigits || len(places) > mostPlaces {
		return decimal.Decimal{}, fmt.Errorf("%q has more figures than can be meant: %d before the point and %d after it are the most", s, mostDigits, mostPlaces)
	}
	return decimal.NewFromString(s)
}
