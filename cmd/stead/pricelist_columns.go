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
	"stead/inventory"
	"stead/inventory/catalogue"
	"stead/inventory/pricelist"
	"stead/substitution"
)

// decimalMark is how a list writes the pence.
type decimalMark string

// priceOf is what a column's prices are of.
type priceOf string

const (
	ofPack  priceOf = "pack"
	ofPiece priceOf = "piece"
)

// newListColumns shows or confirms which column of a supplier's lists is what.
func newListColumns() *cobra.Command {
	var sheet string
	var header int
	var mark decimalMark
	var price, retail priceOf
	var tax percent
	cmd := &cobra.Command{Use: "columns SUPPLIER [FILE [FIELD=COLUMN …]]", Short: "Show or confirm which column of a supplier's lists is what",
		Long: `Without FILE shows the columns that are confirmed. With FILE looks which column
is what, corrects that by what is given, and keeps it for the supplier's lists.
COLUMN is a letter, a number or a heading; "none" says that no column has it.
FIELD is one of ` + joinWords(pricelist.Fields[:6]) + ",\n" + joinWords(pricelist.Fields[6:]) + ".",
		Example: "  stead pricelist columns harbour\n  stead pricelist columns harbour harbour-december.csv price=F stock=none\n" +
			"  stead pricelist columns harbour harbour-december.csv --retail-of piece",
		Args: atLeast("SUPPLIER")}
	cmd.Flags().StringVar(&sheet, "sheet", "", "the one sheet of the workbook that is the list, where it has several")
	cmd.Flags().IntVar(&header, "header", 0, "line of the headings, where it is not found")
	marks := oneOf[decimalMark]{&mark, []decimalMark{"comma", "point"}}
	cmd.Flags().Var(marks, "decimal", "mark before the pence, where it is not found: "+marks.List())
	of := oneOf[priceOf]{&price, []priceOf{ofPack, ofPiece}}
	cmd.Flags().Var(of, "price-of", "what the prices are of, all that is sold together or one piece: "+of.List())
	cmd.Flags().Var(oneOf[priceOf]{&retail, []priceOf{ofPack, ofPiece}}, "retail-of", "what the recommended prices are of, in the same words")
	taxFlag(cmd, &tax)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		supplier, err := inventory.SupplierByCode(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		if len(args) == 1 {
			return showColumns(cmd, w, supplier)
		}
		file, err := pricelist.OpenPath(args[1])
		if err != nil {
			return err
		}
		defer file.Close() // only read from
		var p pricelist.Proposal
		switch {
		case sheet == "":
			p, err = pricelist.ProposeFile(file)
		case !slices.Contains(file.Sheets(), sheet):
			return usage(cmd, fmt.Errorf("--sheet: the file has no sheet %q: it has %s", sheet, substitution.Among(sheet, file.Sheets())))
		default:
			p, err = pricelist.Propose(file, sheet)
		}
		if err != nil {
			return err
		}
		m := tax.on(p.Mapping.In(supplier.Currency))
		if header > 0 {
			if err := desk.HeadingsFrom(file, &m, header); err != nil {
				return usage(cmd, fmt.Errorf("--header: %w", err))
			}
		}
		m.Each(func(m *pricelist.Mapping) {
			if mark != "" {
				m.DecimalComma = mark == "comma"
			}
			if price != "" {
				m.PriceEach = price == ofPiece
			}
			if retail != "" {
				m.RetailEach = retail == ofPiece
			}
		})
		if err := assignColumns(&m, args[2:]); err != nil {
			return usage(cmd, err)
		}
		if err := m.CheckComplete(); err != nil {
			return usage(cmd, err)
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricelist.Mapping, error) {
			return m, catalogue.PutMapping(ctx, tx, supplier.ID, m)
		})
		if err != nil {
			return err
		}
		v := desk.Columns{Supplier: supplier.Code, Confirmed: true, Mapping: m}
		return show(cmd, v, func() {
			say(cmd, "the columns of the lists of %s are confirmed:\n", supplier.Name)
			if price == "" && retail == "" { // else they are answered
				v.Asks = p.Asks
			}
			printColumns(cmd, v)
		})
	})
	return cmd
}

func showColumns(cmd *cobra.Command, w *workshop, supplier inventory.Supplier) error {
	v, err := desk.LoadColumns(cmd.Context(), w, supplier)
	if err != nil {
		return err
	}
	return show(cmd, v, func() {
		if !v.Confirmed {
			say(cmd, "no columns are confirmed for the lists of %s; to confirm them:\n  stead pricelist columns %s FILE", supplier.Name, supplier.Code)
			return
		}
		printColumns(cmd, v)
	})
}

// assignColumns puts a person's words over the proposal. A column that was proposed for something else is that no more.
func assignColumns(m *pricelist.Mapping, args []string) error {
	said := map[pricelist.Field]bool{}
	columns := maps.Clone(m.Columns)
	for _, arg := range args {
		name, where, ok := strings.Cut(arg, "=")
		field := pricelist.Field(name)
		switch {
		case !ok:
			return fmt.Errorf("%q names no column: write FIELD=COLUMN, such as price=F", arg)
		case !slices.Contains(pricelist.Fields, field):
			return fmt.Errorf("there is no field %q: the fields are %s", name, joinWords(pricelist.Fields))
		case said[field]:
			return fmt.Errorf("the %s is given twice", field)
		}
		said[field] = true
		if where == "none" || where == "" {
			delete(columns, field)
			continue
		}
		column, err := columnNamed(*m, where)
		if err != nil {
			return err
		}
		for other, at := range columns {
			if at == column && !said[other] {
				delete(columns, other)
			}
		}
		columns[field] = column
	}
	if len(args) > 0 {
		m.Assign(columns)
	}
	return nil
}

// columnNamed is the column under a heading, or of a letter or a number as a spreadsheet has them.
func columnNamed(m pricelist.Mapping, where string) (int, error) {
	for i, heading := range m.Headings {
		if strings.EqualFold(strings.TrimSpace(heading), strings.TrimSpace(where)) {
			return i + 1, nil
		}
	}
	column, err := strconv.Atoi(where)
	if err != nil && len(where) <= 2 {
		column = 0
		for _, r := range strings.ToUpper(where) {
			if r < 'A' || r > 'Z' {
				column = 0
				break
			}
			column = column*26 + int(r-'A') + 1
		}
	}
	if column < 1 || len(m.Headings) > 0 && column > len(m.Headings) {
		return 0, fmt.Errorf("there is no column %q: the headings are %s", where, substitution.Among(where, m.Headings))
	}
	return column, nil
}

func joinWords[T ~string](words []T) string { return oneOf[T]{words: words}.List() }
