package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
	"stead/pricing/billing"
)

func newBill() *cobra.Command {
	return group("bill", "Bills, credit notes, and what was paid", newBillMake(), newBillShow(), newBillList(), newBillPay(), newBillCredit())
}

// paperNumber reads the number of a bill or credit note.
func paperNumber(cmd *cobra.Command, text string) (int64, error) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 1 {
		return 0, usage(cmd, fmt.Errorf("a bill is named by its number, not %q", text))
	}
	return n, nil
}

// datedFlag asks by what a paper is dated, where the clock stands before the last one.
func datedFlag(cmd *cobra.Command, into *billing.Dated) {
	words := oneOf[billing.Dated]{into, []billing.Dated{billing.AsLast, billing.ByClock}}
	cmd.Flags().Var(words, "dated", "where the clock stands before the last paper, the day that this one bears: "+words.List())
}

func newBillMake() *cobra.Command {
	var paid string
	var dated billing.Dated
	cmd := &cobra.Command{Use: "make JOB", Short: "Write the bill of a job that is closed", Args: exactly("JOB"),
		Long: `Writes the bill of a job that is closed, of what was agreed and done, with the
next number. It is never changed: ` + "`stead bill credit`" + ` corrects it. With --paid
what is due is paid at once.`,
		Example: "  stead bill make 101 --paid card"}
	cmd.Flags().StringVar(&paid, "paid", "", "how all that is due is paid: cash, card, transfer")
	datedFlag(cmd, &dated)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (desk.Bill, error) {
			b, err := billing.MakePaid(ctx, tx, id, paid, billing.Moment{Now: now(), Dated: dated})
			if err != nil {
				return desk.Bill{}, err
			}
			return desk.LoadPaid(ctx, tx, b, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			printBill(cmd, out)
			sayLacking(cmd, out)
		})
	})
	return cmd
}

func newBillShow() *cobra.Command {
	var credit bool
	cmd := &cobra.Command{Use: "show NUMBER", Short: "Show a bill as it was handed over, and what was paid", Args: exactly("NUMBER"), Example: "  stead bill show 1"}
	cmd.Flags().BoolVar(&credit, "credit-note", false, "NUMBER is that of a credit note")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := paperNumber(cmd, args[0])
		if err != nil {
			return err
		}
		series := billing.Bills
		if credit {
			series = billing.Credits
		}
		v, err := desk.LoadBill(cmd.Context(), w, series, n, now())
		if err != nil {
			return err
		}
		return show(cmd, v, func() { printBill(cmd, v) })
	})
	return cmd
}

func newBillList() *cobra.Command {
	var from string
	cmd := &cobra.Command{Use: "list", Short: "List bills and credit notes", Args: exactly(), Example: "  stead bill list --from 2026-12-01"}
	cmd.Flags().StringVar(&from, "from", "", "from this day on")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		d, err := day(cmd, "--from", from)
		if err != nil {
			return err
		}
		var begin time.Time
		if d != nil {
			t := d.Time()
			begin = time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, zone())
		}
		list, err := desk.LoadBills(cmd.Context(), w, begin, now())
		if err != nil {
			return err
		}
		return show(cmd, list, func() {
			var rows [][]string
			for _, v := range list {
				rows = append(rows, []string{v.Date(v.MadeAt), v.Title(), v.WhoseWords(), pricing.Amount(v.Currency, v.Signed(v.Total)), pricing.Amount(v.Currency, v.Due())})
			}
			if len(rows) == 0 {
				say(cmd, "%s", noBills(from))
				return
			}
			terminal.Table(cmd.OutOrStdout(), []string{"DAY", "PAPER", "WHOSE", ">TOTAL", ">DUE"}, rows)
		})
	})
	return cmd
}

// noBills says that no bill was written, from a day on where one is asked.
func noBills(from string) string {
	if from == "" {
		return "no bill was written yet"
	}
	return "no bill was written from " + from + " on; `stead bill list` shows all"
}

// sayLacking says what the head of a paper that was just written lacks, which a customer's tax office may ask for.
func sayLacking(cmd *cobra.Command, v desk.Bill) {
	if words := v.Lacking(); words != "" {
		say(cmd, "\n%s: `stead shop set --address 'STREET, TOWN' --tax-number NUMBER` sets it for the next one", words)
	}
}

func newBillPay() *cobra.Command {
	return newPay(&cobra.Command{Use: "pay NUMBER", Short: "Record what was paid of a bill, or paid back", Args: exactly("NUMBER"),
		Example: "  stead bill pay 1 --how card"}, paperNumber, billing.PayBill)
}

// newJobPay takes money for a job before its bill as well.
func newJobPay() *cobra.Command {
	return newPay(&cobra.Command{Use: "pay JOB", Short: "Record what was paid for a job or its bill, or paid back", Args: exactly("JOB"),
		Example: "  stead job pay 102 --amount 20 --how cash"}, jobNumber, billing.Pay)
}

// newPay takes money, or gives it back: one act, on a job's account or a bill's, so one name in both groups.
func newPay(
	cmd *cobra.Command, number func(*cobra.Command, string) (int64, error),
	pay func(ctx context.Context, tx pgx.Tx, number int64, sum decimal.NullDecimal, how string, now time.Time) (billing.Payment, error),
) *cobra.Command {
	var how, money string
	var back bool
	cmd.Flags().StringVar(&how, "how", "", "cash, card, transfer")
	cmd.Flags().StringVar(&money, "amount", "", "how much (default all that is due of the bill)")
	cmd.Flags().BoolVar(&back, "back", false, "it was paid back")
	needed(cmd, "how")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := number(cmd, args[0])
		if err != nil {
			return err
		}
		sum, err := paidAmount(cmd, money, back)
		if err != nil {
			return err
		}
		p, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (billing.Payment, error) {
			return pay(ctx, tx, n, sum, how, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, p, func() { say(cmd, "%s", p.Words()) })
	})
	return cmd
}

// paidAmount reads how much was paid; none: all that is due.
func paidAmount(cmd *cobra.Command, text string, back bool) (decimal.NullDecimal, error) {
	sum, err := amount(cmd, "--amount", text)
	if back && err == nil && !sum.Valid {
		return sum, usage(cmd, errors.New("--back wants its --amount: how much was paid back"))
	}
	if back {
		sum.Decimal = sum.Decimal.Neg()
	}
	return sum, err
}

func newBillCredit() *cobra.Command {
	var why string
	var lines []string
	var dated billing.Dated
	cmd := &cobra.Command{Use: "credit NUMBER", Short: "Correct a bill by a credit note", Args: exactly("NUMBER"),
		Long: `Corrects a bill by a credit note: gives back lines of it by their numbers, or
with =AMOUNT so much of one, tax included; without --line all that is left. What
was paid too much is then paid back with ` + "`stead bill pay`" + `. Parts that came
back are put on the shelf with ` + "`stead stock receive`" + `.`,
		Example: "  stead bill credit 1 --line 1=2.50 --why \"scratched\""}
	cmd.Flags().StringArrayVar(&lines, "line", nil, "line of the bill, or LINE=AMOUNT (default all that is left)")
	cmd.Flags().StringVar(&why, "why", "", "the reason, as it stands on the credit note")
	datedFlag(cmd, &dated)
	needed(cmd, "why")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		n, err := paperNumber(cmd, args[0])
		if err != nil {
			return err
		}
		back := billing.Back{}
		for _, text := range lines {
			number, money, _ := strings.Cut(text, "=")
			line, err := strconv.Atoi(number)
			if err != nil {
				return usage(cmd, fmt.Errorf("--line is a line's number, or LINE=AMOUNT, not %q", text))
			}
			if _, twice := back[line]; twice {
				return usage(cmd, fmt.Errorf("line %d is given twice: say it once", line))
			}
			if back[line], err = amount(cmd, "--line", money); err != nil {
				return err
			}
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (desk.Bill, error) {
			b, err := billing.Credit(ctx, tx, n, back, why, billing.Moment{Now: now(), Dated: dated})
			if err != nil {
				return desk.Bill{}, err
			}
			return desk.LoadPaid(ctx, tx, b, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() { printBill(cmd, out) })
	})
	return cmd
}

// printBill sets a bill or credit note as it is handed over.
func printBill(cmd *cobra.Command, v desk.Bill) {
	for _, words := range v.Head() {
		say(cmd, "%s", words)
	}
	say(cmd, "")
	var rows [][]string
	for _, l := range v.Lines {
		rows = append(rows, []string{strconv.Itoa(l.Number), v.LineWords(l), pricing.Amount(v.Currency, v.Signed(l.Amount))})
	}
	terminal.Table(cmd.OutOrStdout(), []string{">", "", ">"}, rows)
	say(cmd, "\ntotal %s", pricing.Amount(v.Currency, v.Signed(v.Total)))
	indented(cmd, v.TaxWords())
	indented(cmd, v.PaidWords())
	indented(cmd, v.UnmendedNotes())
}

func newJobCard() *cobra.Command {
	cmd := &cobra.Command{Use: "card JOB", Short: "Set the job card for the bench", Args: exactly("JOB"), Example: "  stead job card 102"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		c, err := desk.LoadCard(cmd.Context(), w, id, now())
		if err != nil {
			return err
		}
		return show(cmd, c, func() { printCard(cmd, c) })
	})
	return cmd
}

func printCard(cmd *cobra.Command, c desk.Card) {
	say(cmd, "%s", c.Title())
	indented(cmd, c.Head())
	for _, l := range c.Places {
		say(cmd, "\n%s", l.Title())
		for _, words := range l.ToDo() {
			say(cmd, "  [ ] %s", words)
		}
		indented(cmd, l.Found())
	}
	say(cmd, "")
	indented(cmd, c.Notes())
}
