package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"
	"github.com/spf13/cobra"
	"golang.org/x/term"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/people"
	"stead/pricing"
)

// started is what a shop was told at its start; what was not given is absent.
type started struct {
	Name     string       `json:"name,omitempty"`
	Currency string       `json:"currency,omitempty"`
	Tax      *pricing.Tax `json:"tax,omitempty"`
	Hourly   string       `json:"hourly,omitempty"` // before tax
	Bins     []string     `json:"bins,omitempty"`
	Closed   string       `json:"closed,omitempty"`
	Owner    string       `json:"owner,omitempty"`
}

// newShopStart sets up a shop in one go. It may be run again: what is given is changed, and all else stays.
func newShopStart() *cobra.Command {
	var f startFlags
	cmd := &cobra.Command{Use: "start", Short: "Set up the shop: name, currency, tax, hour, bins, days, owner", Args: exactly(),
		Long: `Sets up the shop in one go. On a terminal it asks for what is not given; an
empty answer leaves a thing as it is. It may be run again. With the price of an
hour, all usual work has its minutes and price from the start.`,
		Example: "  stead shop start --name \"Tannery Yard\" --currency GBP --tax \"VAT 20\" \\\n      --hourly 48 --bins A1,A2,B1 --closed sunday,monday"}
	for _, q := range f.questions() {
		cmd.Flags().StringVar(q.into, q.flag, "", q.words)
	}
	secretFlag(cmd, &f.passwordFile, "password")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		if err := f.ask(cmd); err != nil {
			return err
		}
		if !anyFlag(cmd) {
			return usage(cmd, errors.New("nothing is given to start with: say --name, --currency, --tax, --hourly, --bins, --closed or --owner"))
		}
		start, err := f.read(cmd)
		if err != nil {
			return err
		}
		if err := start.meetOwner(cmd, w, f.passwordFile); err != nil {
			return err
		}
		if _, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (started, error) { return start.told, start.put(ctx, tx) }); err != nil {
			return err
		}
		return show(cmd, start.told, func() { say(cmd, "the shop is set up: `stead shop show` shows all of it") })
	})
	return cmd
}

// startFlags are what a shop is told at its start, as it is typed.
type startFlags struct {
	name, currency, tax, hourly, bins, closed, owner string
	passwordFile                                     string
}

// question is one thing to tell, by a flag or as the answer to its words.
type question struct {
	flag, words string
	into        *string
}

func (f *startFlags) questions() []question {
	return []question{
		{"name", "name on paper", &f.name},
		{"currency", "ISO 4217 code, such as GBP", &f.currency},
		{"tax", "name and percent of the tax, such as \"VAT 20\"", &f.tax},
		{"hourly", "what an hour of work costs, before tax", &f.hourly},
		{"bins", "bins of the shelf, such as A1,A2", &f.bins},
		{"closed", "days closed every week, such as sunday,monday; none for none", &f.closed},
		{"owner", "who owns the shop, and signs in to the pages", &f.owner},
	}
}

// ask asks for what is not given, on a terminal.
func (f *startFlags) ask(cmd *cobra.Command) error {
	in, isFile := cmd.InOrStdin().(*os.File)
	if !isFile || !term.IsTerminal(int(in.Fd())) {
		return nil
	}
	lines := bufio.NewReader(in)
	for _, q := range f.questions() {
		if cmd.Flags().Changed(q.flag) {
			continue
		}
		fmt.Fprintf(cmd.ErrOrStderr(), "%s: ", q.words)
		line, err := lines.ReadString('\n')
		if err != nil {
			fmt.Fprintln(cmd.ErrOrStderr())
			return unanswered(err)
		}
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		if err := cmd.Flags().Set(q.flag, line); err != nil {
			return usage(cmd, err)
		}
	}
	return nil
}

// unanswered is what reading an answer ended with: whoever ends the questions, by Ctrl-D, has made no mistake.
func unanswered(err error) error {
	if errors.Is(err, io.EOF) {
		return errors.New("the questions were not answered to their end: nothing was changed; give the command again, an empty answer leaves a thing as it is")
	}
	return fmt.Errorf("read the answer: %w", err)
}

// read makes values of what was typed.
func (f *startFlags) read(cmd *cobra.Command) (shopStart, error) {
	s := shopStart{told: started{Name: f.name, Currency: strings.ToUpper(f.currency), Hourly: f.hourly, Closed: f.closed, Owner: f.owner}}
	var err error
	if s.hour, err = amount(cmd, "--hourly", f.hourly); err != nil {
		return s, err
	}
	if f.tax != "" {
		rate, err := taxNamed(cmd, f.tax)
		if err != nil {
			return s, err
		}
		s.told.Tax = &rate
	}
	if f.closed != "" {
		if err := (weekdays{&s.shut}).Set(f.closed); err != nil {
			return s, usage(cmd, fmt.Errorf("--closed: %w", err))
		}
	}
	for bin := range strings.SplitSeq(f.bins, ",") {
		if bin = strings.TrimSpace(bin); bin != "" {
			s.told.Bins = append(s.told.Bins, bin)
		}
	}
	return s, nil
}

// shopStart is what a shop is told at its start.
type shopStart struct {
	told     started
	hour     decimal.NullDecimal
	shut     []time.Weekday
	newOwner string // who is to be taken on; empty where they were at an earlier start
	password string
}

// meetOwner finds out whether the owner is to be taken on, and then asks for a password.
func (s *shopStart) meetOwner(cmd *cobra.Command, db inventory.DB, passwordFile string) error {
	if s.told.Owner == "" {
		return nil
	}
	_, err := people.Named(cmd.Context(), db, s.told.Owner)
	if !errors.As(err, new(*inventory.UnknownError)) {
		return err
	}
	s.newOwner = s.told.Owner
	s.password, err = secret(cmd, "password", passwordFile, people.CheckPassword)
	return err
}

// put changes what was told, and leaves all else.
func (s *shopStart) put(ctx context.Context, tx pgx.Tx) error {
	if _, err := inventory.ChangeShop(ctx, tx, s.changes); err != nil {
		return err
	}
	if s.told.Tax != nil {
		if err := pricing.SetTax(ctx, tx, *s.told.Tax, pricing.Everything, calendar.DayOf(now()).Time()); err != nil {
			return err
		}
	}
	for _, bin := range s.told.Bins {
		if err := inventory.AddBin(ctx, tx, bin); err != nil {
			return err
		}
	}
	if s.newOwner == "" {
		return nil
	}
	_, err := people.Add(ctx, tx, s.newOwner, people.Owner, s.password, "")
	return err
}

func (s *shopStart) changes(shop *inventory.Shop) {
	if s.told.Name != "" {
		shop.Name = s.told.Name
	}
	if s.told.Currency != "" {
		shop.Currency = s.told.Currency
	}
	if s.hour.Valid {
		shop.Hourly = s.hour
	}
	if s.told.Closed != "" {
		shop.ClosedOn = s.shut
	}
}

// taxNamed reads a rate of tax as one says it: "VAT 20".
func taxNamed(cmd *cobra.Command, text string) (pricing.Tax, error) {
	words := strings.Fields(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if len(words) >= 2 {
		percent, err := number(words[len(words)-1])
		if err == nil && !percent.IsNegative() {
			return pricing.Tax{Name: strings.Join(words[:len(words)-1], " "), Percent: percent}, nil
		}
	}
	return pricing.Tax{}, usage(cmd, fmt.Errorf("--tax is a name and a percent such as \"VAT 20\", not %q", text))
}
