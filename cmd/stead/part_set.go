package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

func newPartSet() *cobra.Command {
	var family, name, brand, code, gtin, retail, bin, reorder, note string
	var forget []string
	origin := substitution.Measured
	cmd := &cobra.Command{Use: "set PART [DIMENSION=VALUE …]", Short: "Correct a part: dimensions, family, name, price, bin, reorder",
		Args: atLeast("PART"),
		Long: `Corrects a part of the catalogue and keeps who did it, when, what was, what is
and why. Dimensions that are said here stand against later lists, which say
that they differ; one that is not known after all is taken away with --forget.`,
		Example: "  stead part set COR-R110-50O-S colour=silver \\\n      --why \"on the bench\"\n" +
			"  stead part set COR-R110-50O-S --retail 44.50 --bin A1 --reorder 1:3\n  stead part set COR-R110-50O-S --forget pairs_with --why \"not stamped\""}
	f := cmd.Flags()
	f.StringVar(&family, "family", "", "what kind of part it is")
	f.StringVar(&name, "name", "", "what it is called")
	f.StringVar(&brand, "brand", "", "brand, in the shop's own words")
	f.StringVar(&code, "code", "", "maker's number; empty takes it away")
	f.StringVar(&gtin, "gtin", "", "GTIN-13 (the bar code); empty takes it away")
	f.StringVar(&retail, "retail", "", "retail price a piece, tax included, or none; no list changes it then")
	f.StringVar(&bin, "bin", "", "the bin where it belongs, or none")
	f.StringVar(&reorder, "reorder", "", "order again at so many, up to so many (2:6), or none")
	f.StringArrayVar(&forget, "forget", nil, "a dimension that is not known after all")
	f.StringVar(&note, "note", "", "a remark on the dimensions")
	addOrigin(cmd, &origin)
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		was, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		if len(args) == 1 && len(forget) == 0 {
			if err := checkChanged(cmd, "family", "name", "brand", "code", "gtin", "retail", "bin", "reorder", "forget"); err != nil {
				return err
			}
		}
		kind := was.Family
		if family != "" {
			kind = substitution.Family(family)
		}
		spec, err := dimensions(cmd, kind, args[1:], origin)
		if err != nil {
			return err
		}
		var price decimal.NullDecimal
		if retail != "none" {
			if price, err = amount(cmd, "--retail", retail); err != nil {
				return err
			}
		}
		level, to, err := reorderLevels(cmd, reorder)
		if err != nil {
			return err
		}
		is, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (inventory.Part, error) {
			return pricing.CorrectPart(ctx, tx, was.ID, hand, func(p *inventory.Part) error {
				given := cmd.Flags().Changed
				p.Family = kind
				for flag, to := range map[string]struct{ field, text *string }{
					"name": {&p.Name, &name}, "brand": {&p.Brand, &brand}, "code": {&p.MakerCode, &code}, "gtin": {&p.GTIN, &gtin}, "bin": {&p.Bin, &bin},
				} {
					if given(flag) {
						*to.field = *to.text
					}
				}
				if p.Bin == "none" {
					p.Bin = ""
				}
				if given("retail") {
					p.Retail = price
				}
				if given("reorder") {
					p.ReorderLevel, p.ReorderTo = level, to
				}
				for name, fact := range spec {
					fact.Note = note
					p.Spec[name] = fact
				}
				for _, name := range forget {
					if _, known := p.Spec[name]; !known {
						return fmt.Errorf("nothing is recorded of the %s of part %d: there is nothing to forget", name, p.ID)
					}
					delete(p.Spec, name)
				}
				return nil
			})
		})
		if err != nil {
			return err
		}
		return show(cmd, is, func() { say(cmd, "part %d: %s", is.ID, is.Name) })
	})
	return cmd
}

// reorderLevels reads LEVEL:TO; "none" and nothing are no levels.
func reorderLevels(cmd *cobra.Command, text string) (level, to *int, err error) {
	if text == "" || text == "none" {
		return nil, nil, nil
	}
	at, up, ok := strings.Cut(text, ":")
	l, errL := strconv.Atoi(at)
	t, errT := strconv.Atoi(up)
	if !ok || errL != nil || errT != nil {
		return nil, nil, usage(cmd, fmt.Errorf("--reorder is such as 2:6, order again at 2 up to 6, or none, not %q", text))
	}
	return &l, &t, nil
}

func newPartMove() *cobra.Command {
	cmd := &cobra.Command{Use: "move CODE PART", Short: "Give a code that stands on the wrong part to the right one",
		Args: exactly("CODE", "PART"),
		Long: `Gives a GTIN, a maker's code or a supplier's code (SUPPLIER:CODE) to another
part of the same family, with all that is offered under it. What later lists
say under that code is of the new part.`,
		Example: "  stead part move harbour:HL11567 COR-R110-48O-B --why \"it is the black one\""}
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		to, err := inventory.PartNamed(cmd.Context(), w, args[1])
		if err != nil {
			return err
		}
		type moved struct {
			Code string             `json:"code"`
			Kind inventory.CodeKind `json:"kind"`
			From inventory.Part     `json:"from"`
			To   inventory.Part     `json:"to"`
		}
		out, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (moved, error) {
			kind, from, err := inventory.MoveCode(ctx, tx, args[0], to.ID, hand)
			return moved{args[0], kind, from, to}, err
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			say(cmd, "the %s %s is now of part %d, %s; it was of part %d, %s", out.Kind, out.Code, to.ID, to.Name, out.From.ID, out.From.Name)
		})
	})
	return cmd
}
