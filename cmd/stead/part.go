package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

func newPart() *cobra.Command {
	return group("part", "Parts of the catalogue", newPartAdd(), newPartFind(), newPartShow(), newPartSet(), newPartMove())
}

// addOrigin adds the flag for where dimensions come from.
func addOrigin(cmd *cobra.Command, origin *substitution.Origin) {
	words := oneOf[substitution.Origin]{origin, []substitution.Origin{substitution.Measured, substitution.FromMaker,
		substitution.FromSupplier, substitution.FromStandard, substitution.Assumed}}
	cmd.Flags().Var(words, "origin", "where the dimensions come from: "+words.List())
}

// dimensions reads arguments such as bcd_mm=110 against a family's vocabulary.
func dimensions(cmd *cobra.Command, family substitution.Family, args []string, origin substitution.Origin) (substitution.Spec, error) {
	table, err := substitution.TableOf(family)
	if err != nil {
		return nil, usage(cmd, err)
	}
	spec := substitution.Spec{}
	for _, arg := range args {
		name, text, ok := strings.Cut(arg, "=")
		if !ok {
			return nil, usage(cmd, fmt.Errorf("%q is no dimension: write NAME=VALUE, such as teeth=50", arg))
		}
		if err := table.Type(spec, name, text, origin); err != nil {
			return nil, usage(cmd, err)
		}
	}
	return spec, nil
}

func newPartAdd() *cobra.Command {
	var p inventory.Part
	var retail string
	origin := substitution.FromMaker
	cmd := &cobra.Command{
		Use: "add FAMILY NAME [DIMENSION=VALUE …]", ValidArgsFunction: complete(familyNames), Short: "Add a part to the catalogue",
		Example: "  stead part add chainring \"ring 50T silver\" teeth=50 bcd_mm=110 \\\n      bolts=5 colour=silver --brand Corvane --code R110-50 --retail 34.50",
		Args:    atLeast("FAMILY", "NAME"),
	}
	cmd.Flags().StringVar(&p.Brand, "brand", "", "brand, in the shop's own words")
	cmd.Flags().StringVar(&p.MakerCode, "code", "", "maker's number")
	cmd.Flags().StringVar(&p.GTIN, "gtin", "", "GTIN-13 (the bar code)")
	cmd.Flags().StringVar(&retail, "retail", "", "recommended retail price a piece, tax included")
	addOrigin(cmd, &origin)
	level := cmd.Flags().Int("reorder-at", -1, "order again when this many are left")
	to := cmd.Flags().Int("reorder-to", -1, "and order up to this many")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		spec, err := dimensions(cmd, substitution.Family(args[0]), args[2:], origin)
		if err != nil {
			return err
		}
		p.Part = substitution.Part{Family: substitution.Family(args[0]), Name: args[1], Spec: spec}
		if p.Retail, err = amount(cmd, "--retail", retail); err != nil {
			return err
		}
		if p.MakerCode != "" && p.Brand == "" {
			return usage(cmd, fmt.Errorf("--code is a maker's number: say whose with --brand"))
		}
		if *level >= 0 || *to >= 0 {
			p.ReorderLevel, p.ReorderTo = level, to
		}
		added, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (inventory.Part, error) {
			return inventory.AddPart(ctx, tx, p)
		})
		if err != nil {
			return err
		}
		return show(cmd, added, func() { say(cmd, "part %d: %s", added.ID, added.Name) })
	})
	return cmd
}

func newPartFind() *cobra.Command {
	var family string
	limit := 20
	cmd := &cobra.Command{
		Use: "find [WORDS …] [DIMENSION=VALUE …]", Short: "Find parts by words, code or dimensions",
		Example: "  stead part find chainring 50T silver\n  stead part find --family cartridge-bearing bore_mm=15 outer_mm=28",
	}
	cmd.Flags().StringVar(&family, "family", "", "only this family")
	cmd.Flags().Var(count{&limit}, "limit", "at most so many")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if family != "" {
			if _, err := substitution.TableOf(substitution.Family(family)); err != nil {
				return usage(cmd, err)
			}
		}
		search := inventory.Search{Family: substitution.Family(family), Limit: limit}
		var words, dims []string
		for _, a := range args {
			if strings.Contains(a, "=") {
				dims = append(dims, a)
			} else {
				words = append(words, a)
			}
		}
		search.Words = strings.Join(words, " ")
		if len(dims) > 0 {
			if family == "" {
				return usage(cmd, fmt.Errorf("say of which family %s is: --family", dims[0]))
			}
			spec, err := dimensions(cmd, search.Family, dims, substitution.Assumed)
			if err != nil {
				return err
			}
			search.Dims = spec.Values()
		}
		found, err := desk.FindParts(cmd.Context(), w, search, now())
		if err != nil {
			return err
		}
		return show(cmd, found.Parts, func() {
			if len(found.Parts) == 0 {
				say(cmd, "nothing found")
				return
			}
			var rows [][]string
			for _, p := range found.Parts {
				rows = append(rows, []string{strconv.FormatInt(p.ID, 10), p.Name, string(p.Family), strconv.Itoa(found.Stock[p.ID].Free()), found.Retail.Words(p, found.Offers[p.ID])})
			}
			terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", "FAMILY", ">FREE", ">RETAIL A PIECE"}, rows)
		})
	})
	return cmd
}

func newPartShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show PART", Short: "Show a part, named by number, GTIN or code, with stock and offers", Args: exactly("PART"),
		Example: "  stead part show 12\n  stead part show COR-R110-50O-S"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		v, err := desk.LoadPart(cmd.Context(), w, args[0], now())
		if err != nil {
			return err
		}
		p := v.Part
		return show(cmd, v, func() {
			say(cmd, "part %d: %s", p.ID, p.Name)
			var rows [][]string
			for _, d := range v.Dimensions() {
				rows = append(rows, []string{d.Name, d.Value, d.Plain, string(d.Origin)})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"DIMENSION", "VALUE", "", "FROM"}, rows)
			say(cmd, "\n%s", desk.StockWords(v.Stock))
			if words := v.Retail.Words(p, v.Offers); words != "" {
				say(cmd, "retail with tax: %s a piece%s", words, v.Retail.PackWords(p, v.Offers))
			}
			if p.Bin != "" {
				say(cmd, "belongs in bin %s", p.Bin)
			}
			if len(v.Codes) > 0 {
				say(cmd, "codes given to it: %s", strings.Join(v.Codes, ", "))
			}
			for _, words := range desk.PhotoWords(v.Photos) {
				say(cmd, "%s", words)
			}
			printTrail(cmd, v.Corrected)
			rows = nil
			for _, o := range v.Sources {
				rows = append(rows, []string{o.Supplier.Name, o.Code, strconv.Itoa(o.Pack), pricing.Amount(o.Supplier.Currency, o.PriceAt(o.MinimumPacks)), string(o.Stock), o.HereBy})
			}
			if len(rows) > 0 {
				say(cmd, "")
				terminal.Table(cmd.OutOrStdout(), []string{"SUPPLIER", "CODE", ">PACK", ">A PACK", "STOCK", "HERE BY"}, rows)
				sayEach(cmd, v.Delays)
			}
		})
	})
	return cmd
}
