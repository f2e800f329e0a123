package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/pricing"
	"stead/substitution"
)

func newPart() *cobra.Command {
	return group("part", "Parts of the catalogue", newPartAdd(), newPartFind(), newPartShow())
}

// addOrigin adds the flag for where dimensions come from.
func addOrigin(cmd *cobra.Command, origin *substitution.Origin) {
	words := oneOf[substitution.Origin]{origin, []substitution.Origin{substitution.Measured, substitution.FromMaker,
		substitution.FromSupplier, substitution.FromStandard, substitution.Assumed}}
	cmd.Flags().Var(words, "origin", "where the dimensions come from: "+words.list())
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
		parts, err := inventory.FindParts(cmd.Context(), w, search)
		if err != nil {
			return err
		}
		ids := make([]int64, len(parts))
		for i, p := range parts {
			ids[i] = p.ID
		}
		stock, err := inventory.StockOf(cmd.Context(), w, ids)
		if err != nil {
			return err
		}
		offers, err := inventory.OffersOf(cmd.Context(), w, ids)
		if err != nil {
			return err
		}
		retail, err := loadRetailView(cmd.Context(), w)
		if err != nil {
			return err
		}
		return show(cmd, parts, func() {
			if len(parts) == 0 {
				say(cmd, "nothing found")
				return
			}
			var rows [][]string
			for _, p := range parts {
				rows = append(rows, []string{strconv.FormatInt(p.ID, 10), p.Name, string(p.Family), strconv.Itoa(stock[p.ID].Free()), retail.words(p, offers[p.ID])})
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
		ctx := cmd.Context()
		p, err := inventory.PartNamed(ctx, w, args[0])
		if err != nil {
			return err
		}
		stock, err := inventory.StockOf(ctx, w, []int64{p.ID})
		if err != nil {
			return err
		}
		offers, err := inventory.OffersOf(ctx, w, []int64{p.ID})
		if err != nil {
			return err
		}
		retail, err := loadRetailView(ctx, w)
		if err != nil {
			return err
		}
		deliveries, err := inventory.LoadDeliveries(ctx, w, now())
		if err != nil {
			return err
		}
		answer := struct {
			Part   inventory.Part    `json:"part"`
			Stock  inventory.Stock   `json:"stock"`
			Offers []inventory.Offer `json:"offers"`
		}{p, stock[p.ID], offers[p.ID]}
		return show(cmd, answer, func() {
			say(cmd, "part %d: %s", p.ID, p.Name)
			table, _ := substitution.TableOf(p.Family)
			var rows [][]string
			for _, name := range p.Spec.Names() {
				d, _ := table.Dimension(name)
				rows = append(rows, []string{name, d.Show(p.Spec[name].Value), d.Plain(), string(p.Spec[name].Origin)})
			}
			terminal.Table(cmd.OutOrStdout(), []string{"DIMENSION", "VALUE", "", "FROM"}, rows)
			s := answer.Stock
			say(cmd, "\non hand %d, reserved %d, free %d, on order %d", s.OnHand, s.Reserved, s.Free(), s.OnOrder)
			if words := retail.words(p, answer.Offers); words != "" {
				say(cmd, "retail with tax: %s a piece%s", words, retail.packs(p, answer.Offers))
			}
			rows = nil
			for _, o := range answer.Offers {
				here := "can't be promised"
				if promise, err := deliveries.OfferPromise(o); err == nil {
					here = promise.Words(deliveries.Today)
				}
				sup := deliveries.Supplier(o.SupplierID)
				rows = append(rows, []string{sup.Code, o.Code, strconv.Itoa(o.Pack), pricing.Amount(sup.Currency, o.PriceAt(o.MinimumPacks)), string(o.Stock), here})
			}
			if len(rows) > 0 {
				say(cmd, "")
				terminal.Table(cmd.OutOrStdout(), []string{"SUPPLIER", "CODE", ">PACK", ">A PACK", "STOCK", "HERE BY"}, rows)
			}
		})
	})
	return cmd
}
