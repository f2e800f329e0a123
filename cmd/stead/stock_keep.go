package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/shelf"
)

// shelfFlags are what is wanted of the shelf.
type shelfFlags struct {
	target, lineCost string
	look, life       int
}

func (f *shelfFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&f.target, "target", "", "sales in 100 to be met whole from the shelf, over all parts")
	cmd.Flags().StringVar(&f.lineCost, "line-cost", "", "what one more line of an order costs in handling and carriage")
	cmd.Flags().IntVar(&f.life, "life", 0, "months that stock may lie: no more is ordered at a time than sells in them, but for a pack or a minimum order")
	cmd.Flags().IntVar(&f.look, "look", 0, "working days from one look at the shelf to the next; 0: as the orders tell")
}

// asSet is what help says of flags that stand in for the shop's settings this once.
const asSet = "What no flag says is as `stead shop shelf` has set it."

// policy is the shop's, but for what the flags say otherwise this once.
func (f *shelfFlags) policy(cmd *cobra.Command, w *workshop) (shelf.Policy, error) {
	p, err := shelf.LoadPolicy(cmd.Context(), w)
	if err != nil {
		return p, err
	}
	if err := f.put(cmd, &p); err != nil {
		return p, err
	}
	return p, nil
}

// put puts what the flags say into a policy.
func (f *shelfFlags) put(cmd *cobra.Command, p *shelf.Policy) error {
	if f.target != "" {
		target, err := inHundred(f.target)
		if err != nil || len(target) != 1 {
			return usage(cmd, fmt.Errorf("--target is one number of sales in 100, above 0 and up to 99.9, not %q", f.target))
		}
		p.Target = target[0]
	}
	cost, err := amount(cmd, "--line-cost", f.lineCost)
	if err != nil {
		return err
	}
	if cost.Valid {
		p.LineCost = cost.Decimal
	}
	if cmd.Flags().Changed("look") {
		if p.LookEvery = f.look; f.look < 0 || f.look > 60 {
			return usage(cmd, fmt.Errorf("--look is from 0 to 60 working days, not %d", f.look))
		}
	}
	if cmd.Flags().Changed("life") {
		if p.Months = f.life; f.life < 1 || f.life > 120 {
			return usage(cmd, fmt.Errorf("--life is from 1 to 120 months, not %d", f.life))
		}
	}
	return nil
}

// keepSaid is what a command says of the levels of a part: one way of setting them, or none.
type keepSaid struct {
	at, to         int
	byHand         bool // at and to were given
	advised, never bool
}

// check refuses what contradicts itself.
func (s *keepSaid) check(cmd *cobra.Command) error {
	s.byHand = cmd.Flags().Changed("at")
	switch {
	case s.byHand != cmd.Flags().Changed("to"):
		return errors.New("--at and --to go together: when to order again, and up to how many")
	case s.byHand && s.advised, s.byHand && s.never, s.advised && s.never:
		return errors.New("--at with --to, --as-advised and --never each say it another way: give one")
	case s.at < 0 || s.to < 0:
		return errors.New("--at and --to are numbers of pieces, not below zero")
	}
	return nil
}

// levels puts to a part the levels that were said; set tells whether any were.
func (s *keepSaid) levels(k *desk.Keep) (set bool, err error) {
	switch {
	case s.byHand:
		k.ReorderLevel, k.ReorderTo = &s.at, &s.to
	case s.advised && k.AdvisedLevel == nil:
		return false, fmt.Errorf("none of %s is advised to be kept: `stead stock keep %d` says why", k.Name, k.PartID)
	case s.advised:
		k.ReorderLevel, k.ReorderTo = k.AdvisedLevel, k.AdvisedTo
	case s.never:
		k.ReorderLevel, k.ReorderTo = nil, nil
	default:
		return false, nil
	}
	return true, nil
}

// newStockKeep advises what to keep of a part on the shelf, or of all, and sets it.
func newStockKeep() *cobra.Command {
	var said keepSaid
	var why bool
	var spend string
	var flags shelfFlags
	cmd := &cobra.Command{Use: "keep [PART]", Short: "Advise what to keep on the shelf, and set when it is ordered again", Args: cobra.MaximumNArgs(1),
		Long: `Advises how many of a part to keep on the shelf, or of all parts, from how
they were used and sold and how long their cheapest suppliers really take, so
that so many sales in 100 are met from the shelf over all parts together: each
next pound goes where it saves most sales. And sets when a part is ordered
again. ` + "`stead order plan`" + ` then orders it.

` + asSet,
		Example: "  stead stock keep\n  stead stock keep TAR-CH9 --why\n  stead stock keep TAR-CH9 --at 2 --to 6\n  stead stock keep --spend 400"}
	flags.add(cmd)
	cmd.Flags().IntVar(&said.at, "at", 0, "order again when so many are left, on the shelf and on order")
	cmd.Flags().IntVar(&said.to, "to", 0, "and order up to so many")
	cmd.Flags().BoolVar(&said.advised, "as-advised", false, "set what is advised; without PART for all parts")
	cmd.Flags().BoolVar(&said.never, "never", false, "do not order it again by itself")
	cmd.Flags().BoolVar(&why, "why", false, "show the levels that are worth their money, and what each meets")
	cmd.Flags().StringVar(&spend, "spend", "", "advise the shelf that so much money on it buys, in place of --target")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		policy, err := flags.policy(cmd, w)
		if err != nil {
			return err
		}
		if err := said.check(cmd); err != nil {
			return usage(cmd, err)
		}
		if len(args) == 0 {
			if said.byHand || said.never || why {
				return usage(cmd, errors.New("PART is missing: --at, --to, --never and --why are of one part"))
			}
			return keepAll(cmd, w, policy, spend, said.advised)
		}
		p, err := inventory.PartNamed(cmd.Context(), w, args[0])
		if err != nil {
			return err
		}
		k, err := desk.LoadKeep(cmd.Context(), w, p, policy, now())
		if err != nil {
			return err
		}
		set, err := said.levels(&k)
		if err != nil {
			return err
		}
		if set {
			_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int64, error) {
				return p.ID, shelf.SetReorder(ctx, tx, p.ID, k.ReorderLevel, k.ReorderTo)
			})
			if err != nil {
				return err
			}
		}
		return show(cmd, k, func() { sayKeeping(cmd, k, why) })
	})
	return cmd
}

// sayKeeping tells what is kept of a part, and with why the levels that it might be.
func sayKeeping(cmd *cobra.Command, k desk.Keep, why bool) {
	say(cmd, "%s: %s", k.Name, k.SetWords())
	say(cmd, "  %s", k.Words)
	for _, doubt := range k.Doubts {
		say(cmd, "  Beware: %s.", doubt)
	}
	if k.Ground != "" {
		say(cmd, "  %s.", k.Ground)
	}
	if !why {
		return
	}
	indented(cmd, k.FigureWords())
	sayWeeks(cmd, k)
	if len(k.Levels) == 0 {
		return
	}
	say(cmd, "")
	var rows [][]string
	for _, l := range k.Curve() {
		mark := ""
		if k.Advised(l) {
			mark = "advised"
		}
		rows = append(rows, []string{strconv.Itoa(l.Level), strconv.Itoa(l.To), fmt.Sprintf("%.1f", 100*l.Meets), l.Stock.StringFixed(2), mark})
	}
	terminal.Table(cmd.OutOrStdout(), []string{">ORDER AT", ">UP TO", ">MEETS IN 100", ">ON THE SHELF " + desk.Symbol(k.Currency), ""}, rows)
}

// sayWeeks prints what was sold in each week of the last months, beside the season.
func sayWeeks(cmd *cobra.Command, k desk.Keep) {
	if k.Figures == nil {
		return
	}
	var rows [][]string
	for _, m := range k.Sold() {
		rows = append(rows, []string{m.Month, strconv.Itoa(m.Sales), strconv.Itoa(m.Pieces), m.WeekWords(), m.SeasonWords()})
	}
	say(cmd, "")
	terminal.Table(cmd.OutOrStdout(), []string{"MONTH", ">SALES", ">PIECES", "SALES BY WEEK", "SEASON BY WEEK"}, rows)
	indented(cmd, []string{k.SoldTold()})
}

// keepAll advises the whole shelf, and sets it.
func keepAll(cmd *cobra.Command, w *workshop, policy shelf.Policy, spend string, set bool) error {
	var money *decimal.Decimal
	if spend != "" {
		sum, err := amount(cmd, "--spend", spend)
		if err != nil {
			return err
		}
		money = &sum.Decimal
	}
	s, err := desk.LoadKeepAll(cmd.Context(), w, policy, money, now())
	if err != nil {
		return err
	}
	changes := s.Changes()
	if set && len(changes) > 0 {
		_, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int, error) {
			return len(changes), shelf.SetLevels(ctx, tx, shelf.Advised(changes))
		})
		if err != nil {
			return err
		}
	}
	return show(cmd, s, func() {
		var rows [][]string
		moving := s.Moving()
		for _, k := range moving {
			rows = append(rows, []string{strconv.FormatInt(k.PartID, 10), k.Name, strconv.Itoa(k.Stock.Free()), desk.LevelWords(k.ReorderLevel, k.ReorderTo),
				desk.AdvisedWords(k), desk.InHundred(k.MeetsNow), desk.InHundred(k.Meets), priceWords(k.Price)})
		}
		if len(moving) > 0 {
			terminal.Table(cmd.OutOrStdout(), []string{">PART", "NAME", ">FREE", ">SET", ">ADVISED", ">MET", ">WOULD", ">" + desk.Symbol(s.Currency) + " EACH"}, rows)
			indented(cmd, []string{s.TableWords()})
			say(cmd, "")
		}
		for _, doubt := range s.Doubts {
			say(cmd, "Beware: %s.", doubt)
		}
		for _, words := range s.TotalWords() {
			say(cmd, "%s", words)
		}
		sayIf(cmd, s.ThenWords(calendar.DayOf(now().In(zone()))))
		switch {
		case set:
			say(cmd, "%s set as advised.", desk.Several(len(changes), "part"))
		case len(changes) > 0:
			say(cmd, "`stead stock keep --as-advised` changes %s.", desk.Several(len(changes), "part"))
		}
	})
}

// priceWords is a price, and nothing where none is known.
func priceWords(price decimal.Decimal) string {
	if price.IsZero() {
		return ""
	}
	return price.StringFixed(2)
}
