package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/reorder"
	"stead/inventory/shelf"
)

// simulated is the answer of `stead simulate`.
type simulated struct {
	Parts   int              `json:"parts"`
	History int              `json:"history_weeks"`
	Played  int              `json:"played_weeks"`
	Rules   []reorder.Played `json:"rules"`
	Look    int              `json:"look"`             // working days from one look at the shelf to the next
	Doubts  []string         `json:"doubts,omitempty"` // what is strange about the books that were played

	currency string
}

// newSimulate plays sales over a shelf under both rules of what to keep.
func newSimulate() *cobra.Command {
	s := shelf.UsualSimulation
	var targets, late string
	var made, madeWeeks int
	var books bool
	cmd := &cobra.Command{Use: "simulate [FILE]", Short: "Play sales over a shelf, to see what keeping so many comes to",
		Long: `Plays the sales of a file, or made-up ones, over a shelf day by day: what
part-by-part levels would have met and cost, and what the shelf weighed as a
whole would have. Each rule sees only the sales before its day; both see the
same days and parcels.

The file has a row a sale with the heads day,part,pieces and, if known, price:
a day is the number of a working day, five a week, or a date. Parts without a
price get one drawn about --price. The first weeks are history, the others are
played. A sale is met if all its pieces are on the shelf; what is missing is
bought for the job. --books plays the shop's own sales and suppliers in place of
a file's, and the levels as they are set beside the two rules, looked at and
reckoned with as the shop has set it and charged what each supplier asks for a
parcel, where no flag says otherwise; --made says for how many parts sales are
made up.`,
		Example: "  stead simulate sales.csv --target 90,95,98\n  stead simulate --made 60 --weeks 52 --quoted 15 --late 50:7.5 --look 5\n  stead simulate --books --target 90,95",
		Args:    cobra.MaximumNArgs(1)}
	flags := cmd.Flags()
	flags.StringVar(&targets, "target", "80,90,95,98", "sales in 100 to be met whole from the shelf, one or several")
	flags.IntVar(&s.HistoryWeeks, "history", 0, "weeks known at the start; 0 is half of them")
	flags.Var(count{&s.LookEvery}, "look", "working days from one look at the shelf to the next")
	flags.Var(count{&s.AdviseWeeks}, "advise", "weeks for which levels stand")
	flags.IntVar(&s.Delivery.Quoted, "quoted", s.Delivery.Quoted, "working days that suppliers quote")
	flags.StringVar(&late, "late", "25:2", "parcels in 100 that are late, and by how many days on average")
	flags.Float64Var(&s.Delivery.VeryLate, "very-late", s.Delivery.VeryLate, "share of parcels that come ten to thirty-nine days late")
	flags.Var(count{&s.Suppliers}, "suppliers", "suppliers among whom the parts are dealt out")
	flags.IntVar(&s.Receipts, "receipts", s.Receipts, "past receipts known of each supplier")
	flags.Float64Var(&s.LineCost, "line-cost", s.LineCost, "pounds that one more line of an order costs")
	flags.Float64Var(&s.Holding, "holding", s.Holding, "what a year on the shelf costs, for each pound of stock")
	flags.Float64Var(&s.Missed, "missed", s.Missed, "pounds that a sale costs that is not met whole")
	flags.Float64Var(&s.Carriage, "carriage", s.Carriage, "pounds that a parcel costs")
	flags.Float64Var(&s.Price, "price", s.Price, "middle of the prices drawn for parts without one")
	flags.Float64Var(&s.PriceSpread, "price-spread", s.PriceSpread, "spread of the logarithm of these; 0 gives all the same")
	flags.Uint64Var(&s.Seed, "seed", s.Seed, "what chance is drawn from: the same seed gives the same answer")
	flags.BoolVar(&books, "books", false, "play the shop's own books")
	flags.IntVar(&made, "made", 0, "make up the sales of so many parts")
	flags.IntVar(&madeWeeks, "weeks", 104, "weeks of made-up sales")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		asked, err := inHundred(targets)
		if err != nil {
			return usage(cmd, fmt.Errorf("--target: %w", err))
		}
		if s.Delivery.Late, s.Delivery.MeanLate, err = lateness(late); err != nil {
			return usage(cmd, fmt.Errorf("--late: %w", err))
		}
		if books && len(args) == 0 && made == 0 {
			return simulateBooks(cmd, s, asked)
		}
		if books || (len(args) == 1) == (made > 0) {
			return usage(cmd, errors.New("give a file of sales, or --books for the shop's own, or say with --made for how many parts they are made up"))
		}
		items, err := salesToPlay(cmd, args, made, madeWeeks, s.Seed)
		if err != nil {
			return err
		}
		w, err := s.World(items)
		if err != nil {
			return err
		}
		rules, err := reorder.Simulate(w, nil, asked)
		if err != nil {
			return err
		}
		out := simulated{Parts: len(items), History: w.Start / 5, Played: (w.End - w.Start) / 5, Rules: rules, Look: w.LookEvery}
		return show(cmd, out, func() { sayPlayed(cmd, out) })
	}
	return cmd
}

// simulateBooks plays the shop's own books.
func simulateBooks(cmd *cobra.Command, s shelf.Simulation, targets []float64) error {
	return inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		policy, err := shelf.LoadPolicy(cmd.Context(), w)
		if err != nil {
			return err
		}
		asShop(cmd, policy, &s)
		books, err := shelf.BooksToPlay(cmd.Context(), w, s, now())
		if err != nil {
			return err
		}
		world := books.World
		rules, err := reorder.Simulate(world, books.AsSet, targets)
		if err != nil {
			return err
		}
		shop, err := inventory.LoadShop(cmd.Context(), w)
		if err != nil {
			return err
		}
		out := simulated{Parts: len(world.Items), History: (world.Start - world.Begin) / 5, Played: (world.End - world.Start) / 5, Rules: rules,
			Look: world.LookEvery, Doubts: books.Doubts, currency: shop.Currency}
		return show(cmd, out, func() { sayPlayed(cmd, out) })
	})(cmd, nil)
}

// asShop puts what the shop has set in the place of whatever no flag says.
func asShop(cmd *cobra.Command, policy shelf.Policy, s *shelf.Simulation) {
	if !cmd.Flags().Changed("line-cost") {
		s.LineCost = policy.LineCost.InexactFloat64()
	}
	if !cmd.Flags().Changed("holding") {
		s.Holding = policy.Holding
	}
	if !cmd.Flags().Changed("look") {
		s.LookEvery = 0
	}
	s.OwnCarriage = !cmd.Flags().Changed("carriage")
}

// salesToPlay reads the file, or makes sales up.
func salesToPlay(cmd *cobra.Command, args []string, made, weeks int, seed uint64) ([]reorder.Item, error) {
	if len(args) == 0 {
		if made > 100_000 || weeks < 4 || weeks > 1000 {
			return nil, usage(cmd, errors.New("--made is at most 100000 parts, --weeks from 4 to 1000"))
		}
		var items []reorder.Item
		for _, item := range reorder.Make(made, weeks, seed) {
			if len(item.Sales) > 0 {
				items = append(items, item)
			}
		}
		if len(items) == 0 {
			return nil, errors.New("nothing is sold in so short a time: make up more parts or weeks")
		}
		return items, nil
	}
	var from io.Reader = cmd.InOrStdin()
	if args[0] != "-" {
		file, err := os.Open(args[0])
		if err != nil {
			return nil, fmt.Errorf("open the sales: %w", err)
		}
		defer file.Close()
		from = file
	}
	return reorder.ReadSales(from)
}

// inHundred reads "90,95,98".
func inHundred(text string) ([]float64, error) {
	var out []float64
	for field := range strings.SplitSeq(text, ",") {
		n, err := number(strings.TrimSpace(field))
		if err != nil || !n.IsPositive() || n.GreaterThan(decimal.New(999, -1)) {
			return nil, fmt.Errorf("%q is not a number of sales in 100, above 0 and up to 99.9: to meet all needs a shelf without end", strings.TrimSpace(field))
		}
		out = append(out, n.Shift(-2).InexactFloat64())
	}
	return out, nil
}

// lateness reads "25:2", parcels in 100 and days.
func lateness(text string) (share, days float64, err error) {
	parcels, mean, found := strings.Cut(text, ":")
	share, err = strconv.ParseFloat(parcels, 64)
	if days = 2; found && err == nil {
		days, err = strconv.ParseFloat(mean, 64)
	}
	if err != nil {
		return 0, 0, fmt.Errorf("%q is not parcels in 100 and days, like 25:2", text)
	}
	return share / 100, days, nil
}

// sayPlayed prints what came of each rule, and the trade between sales met and money.
func sayPlayed(cmd *cobra.Command, out simulated) {
	for _, doubt := range out.Doubts {
		say(cmd, "Beware: %s.", doubt)
	}
	say(cmd, "%s, %s of history, %s played, a look at the shelf %s.", desk.Several(out.Parts, "part"), desk.Several(out.History, "week"),
		desk.Several(out.Played, "week"), desk.EveryDays(out.Look))
	var rows [][]string
	var points []terminal.Point
	least, most := out.Rules[0].Cost, out.Rules[0].Cost
	for _, r := range out.Rules {
		target := ""
		if r.Target > 0 {
			target = strconv.FormatFloat(100*r.Target, 'f', -1, 64)
		}
		rows = append(rows, []string{shortRule[r.Rule], target, fmt.Sprintf("%.1f", 100*r.Share), fmt.Sprintf("%.1f", 100*r.NewShare), strconv.Itoa(r.Delayed),
			out.whole(r.Stock), out.whole(r.Dead), out.whole(r.Cost), strconv.Itoa(r.Lines), strconv.Itoa(r.Parcels), out.whole(r.Carriage)})
		mark := 'p'
		if r.Rule == reorder.WholeShelf {
			mark = 'w'
		} else if r.Rule == reorder.AsSet {
			mark = 's'
		}
		points = append(points, terminal.Point{X: 100 * r.Share, Y: r.Cost, Mark: mark})
		least, most = min(least, r.Cost), max(most, r.Cost)
	}
	terminal.Table(cmd.OutOrStdout(), []string{"RULE", ">ASKED", ">MET", ">NEW", ">WAIT", ">STOCK", ">DEAD", ">YEAR", ">LINES", ">SENT", ">POST"}, rows)
	say(cmd, "  ASKED and MET: of 100 sales, so many were to be met whole, and were. NEW: the same of the %s of parts that first sold while this was played. "+
		"WAIT: jobs that waited. STOCK: its worth on average, and DEAD what of it lies there at the end of parts that did not sell. YEAR: holding and ordering a year. "+
		"LINES and SENT: lines ordered, and parcels, one for all that a supplier is asked for in a day; POST: their carriage a year. RULE: set, the levels as they are set; parts, each part by itself; whole, the whole shelf weighed together.",
		desk.Several(out.Rules[0].NewSales, "sale"))
	for _, r := range out.Rules {
		if words := shortWords(r); words != "" {
			say(cmd, "  %s", words)
		}
	}
	low, high := out.Rules[0].Share, out.Rules[0].Share
	for _, r := range out.Rules {
		low, high = min(low, r.Share), max(high, r.Share)
	}
	if low < high && least < most {
		say(cmd, "\nHolding and ordering a year against sales met whole (s as set, p part by part, w the whole shelf):")
		terminal.Plot(cmd.OutOrStdout(), points,
			terminal.Axis{Least: fmt.Sprintf("%.1f in 100", 100*low), Most: fmt.Sprintf("%.1f", 100*high)},
			terminal.Axis{Least: out.whole(least), Most: out.whole(most)})
	}
}

// shortWords say of the whole shelf, where it met fewer sales than it was asked for, whether that is more than luck, and
// how many of those missed were of parts of which nothing was known at first; empty where it met as many.
func shortWords(r reorder.Played) string {
	if r.Rule != reorder.WholeShelf || r.Sales == 0 || r.Share >= r.Target {
		return ""
	}
	words := fmt.Sprintf("Asked %s the whole shelf met %d of %d: ", strconv.FormatFloat(100*r.Target, 'f', -1, 64), r.Met, r.Sales)
	if shelf.Luck(r.Target, r.Sales, r.Met) {
		words += "fewer, but no more so than luck explains."
	} else {
		words += "fewer than luck explains."
	}
	if missed := r.NewSales - int(math.Round(r.NewShare*float64(r.NewSales))); missed > 0 {
		words += fmt.Sprintf(" Of the %d missed, %d were of parts that first sold while this was played.", r.Sales-r.Met, missed)
	}
	return words
}

// shortRule is a rule's name in a table.
var shortRule = map[reorder.RuleName]string{reorder.AsSet: "set", reorder.PartByPart: "parts", reorder.WholeShelf: "whole"}

// whole is an amount without its pence, in the money of the books that were played; a file's is in pounds.
func (s simulated) whole(v float64) string {
	return fmt.Sprintf("%s%.0f", desk.Symbol(cmp.Or(s.currency, "GBP")), v)
}
