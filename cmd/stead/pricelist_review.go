package main

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/catalogue"
)

// answered is what one answer has settled.
type answered struct {
	Word    string            `json:"word"`
	Meaning string            `json:"meaning"`
	Did     catalogue.Summary `json:"did"`
}

// newListReview lists the words that could not be read, and takes answers.
func newListReview() *cobra.Command {
	limit := mostShown
	cmd := &cobra.Command{Use: "review SUPPLIER [WORD=MEANING …]", Short: "List words that could not be read, or say what they mean",
		Long: `Lists the words of a supplier's list that could not be read, those of the most
lines first. One answer settles all lines of a word, and is known in the next
list too. MEANING is DIMENSION=VALUE, "family NAME", "none" (what is called so
is none of our parts) or "ignore". A word that was read wrongly is answered
alike.`,
		Example: "  stead pricelist review harbour\n  stead pricelist review harbour rs-7=pad_shape=B05 \\\n      'kwartel=family chainring' zephyr=ignore \\\n      'toggle chain=none'",
		Args:    atLeast("SUPPLIER")}
	cmd.Flags().Var(count{&limit}, "limit", "at most so many words")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		answers := make([]answered, len(args)-1)
		for i, arg := range args[1:] {
			var err error
			if answers[i].Word, answers[i].Meaning, err = wordMeaning(arg); err != nil {
				return usage(cmd, err)
			}
		}
		supplier, err := inventory.SupplierByCode(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		if len(args) == 1 {
			return showReview(cmd, w, supplier, limit)
		}
		answers, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) ([]answered, error) {
			for i, a := range answers {
				if answers[i].Did, err = catalogue.Answer(ctx, tx, supplier.ID, a.Word, a.Meaning); err != nil {
					return nil, err
				}
			}
			return answers, nil
		})
		if err != nil {
			return err
		}
		return show(cmd, answers, func() {
			for _, a := range answers {
				say(cmd, "%s means %s: %s", a.Word, a.Meaning, desk.AnsweredWords(a.Did))
			}
		})
	})
	return cmd
}

func showReview(cmd *cobra.Command, w *workshop, supplier inventory.Supplier, limit int) error {
	v, err := desk.LoadReview(cmd.Context(), w, supplier)
	if err != nil {
		return err
	}
	list := v.Words
	return show(cmd, list, func() {
		if len(v.Waiting) > 0 {
			defer say(cmd, "%s, each with why: stead pricelist waiting %s", desk.WaitWords(len(v.Waiting)), supplier.Code)
		}
		if len(list) == 0 {
			say(cmd, "every word of the list of %s was read", supplier.Name)
			return
		}
		var rows [][]string
		for _, u := range list[:min(len(list), limit)] {
			rows = append(rows, []string{strconv.Itoa(u.Lines), strconv.Itoa(u.Waiting), u.Word, strings.Join(u.Examples[:min(len(u.Examples), 1)], "")})
		}
		terminal.Table(cmd.OutOrStdout(), []string{">LINES", ">WAITING", "WORD", "SUCH AS"}, rows)
		if left := len(list) - len(rows); left > 0 {
			say(cmd, "and %s more", desk.Several(left, "word"))
		}
		say(cmd, "\nto answer: stead pricelist review %s WORD=MEANING …", supplier.Code)
	})
}

// newListWords writes the shop's own words in the form that describe reads.
func newListWords() *cobra.Command {
	cmd := &cobra.Command{Use: "words SUPPLIER", Short: "Write the shop's own words for a supplier", Args: exactly("SUPPLIER"),
		Example: "  stead pricelist words harbour > harbour.words"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		supplier, err := inventory.SupplierByCode(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		words, err := catalogue.WordsOf(cmd.Context(), w, supplier.ID)
		if err != nil {
			return err
		}
		return show(cmd, words, func() {
			for _, word := range slices.Sorted(maps.Keys(words)) {
				fmt.Fprintf(cmd.OutOrStdout(), "%s=%s\n", word, words[word])
			}
		})
	})
	return cmd
}
