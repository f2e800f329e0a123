package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/inventory/shelf"
)

func newReorderTake() *cobra.Command {
	var flags shelfFlags
	var note string
	var all bool
	cmd := &cobra.Command{Use: "take [PART …]", Short: "Take parts of the week's list, to be ordered as advised", Args: cobra.ArbitraryArgs,
		Long: `Takes parts of the week's list as it is now: so many as it advises are ordered
by ` + "`stead order plan`" + `, once.`,
		Example: "  stead reorder take TAR-CH9\n  stead reorder take --all"}
	flags.add(cmd)
	cmd.Flags().BoolVar(&all, "all", false, "take the whole list")
	return reorderAnswer(cmd, &note, func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error) {
		if all == (len(args) > 0) {
			return nil, usage(cmd, errors.New("name the parts to be taken, or give --all"))
		}
		list, err := weekList(cmd, w, flags)
		if err != nil {
			return nil, err
		}
		if all {
			return desk.TakenWhole(list), nil
		}
		said := []shelf.Word{}
		for _, name := range args {
			line, err := onList(cmd, w, list, name)
			if err != nil {
				return nil, err
			}
			said = append(said, shelf.Word{PartID: line.PartID, Answer: shelf.Take, Pieces: line.Order})
		}
		return said, nil
	})
}

// onList is the line of a part that a person named.
func onList(cmd *cobra.Command, w *workshop, list shelf.WeekList, name string) (shelf.WeekLine, error) {
	p, err := inventory.PartNamed(cmd.Context(), w, name)
	if err != nil {
		return shelf.WeekLine{}, err
	}
	line, there := list.Line(p.ID)
	if !there {
		return line, &desk.NotListedError{PartID: p.ID, Name: p.Name}
	}
	return line, nil
}

func newReorderLess() *cobra.Command {
	var flags shelfFlags
	var note string
	cmd := &cobra.Command{Use: "less PART PIECES", Short: "Take a part of the week's list, but fewer of it", Args: exactly("PART", "PIECES"),
		Example: "  stead reorder less KES-B18-G25 1 --note \"the new ones come in March\""}
	flags.add(cmd)
	return reorderAnswer(cmd, &note, func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error) {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return nil, err
		}
		list, err := weekList(cmd, w, flags)
		if err != nil {
			return nil, err
		}
		line, err := onList(cmd, w, list, args[0])
		if err != nil {
			return nil, err
		}
		if n >= line.Order {
			return nil, &desk.NotFewerError{Line: line, Pieces: n}
		}
		return []shelf.Word{{PartID: line.PartID, Answer: shelf.Less, Pieces: n}}, nil
	})
}

func newReorderSnooze() *cobra.Command {
	var note, until string
	cmd := &cobra.Command{Use: "snooze PART", Short: "Put a part off: it is not listed before a day", Args: exactly("PART"),
		Example: "  stead reorder snooze KES-B18-G25 --until 2027-02-01 --note \"after the fair\""}
	cmd.Flags().StringVar(&until, "until", "", "the day on which it is asked of again")
	needed(cmd, "until")
	return reorderAnswer(cmd, &note, func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error) {
		day, err := calendar.ParseDay(until)
		if err != nil {
			return nil, usage(cmd, fmt.Errorf("--until: %w", err))
		}
		if today := calendar.DayOf(now().In(zone())); day <= today {
			return nil, usage(cmd, fmt.Errorf("--until is a day to come, not %s", day))
		}
		return wordOn(cmd, w, args[0], shelf.Word{Answer: shelf.Snooze, Until: &day})
	})
}

// wordOn is something said of a part that a person named.
func wordOn(cmd *cobra.Command, w *workshop, name string, word shelf.Word) ([]shelf.Word, error) {
	p, err := inventory.PartNamed(cmd.Context(), w, name)
	word.PartID = p.ID
	return []shelf.Word{word}, err
}

func newReorderNever() *cobra.Command {
	var note string
	cmd := &cobra.Command{Use: "never PART", Short: "Never order a part for the shelf, only for jobs", Args: exactly("PART"),
		Example: "  stead reorder never KES-B14-G25 --note \"jobs only\""}
	return reorderAnswer(cmd, &note, func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error) {
		return wordOn(cmd, w, args[0], shelf.Word{Answer: shelf.Never})
	})
}

func newReorderAtLeast() *cobra.Command {
	var note string
	cmd := &cobra.Command{Use: "at-least PART PIECES", Short: "Always keep so many of a part, whatever sells", Args: exactly("PART", "PIECES"),
		Long: `Always keeps at least so many pieces of a part on the shelf or on order,
whatever it sells: what stops a job of safety, or what you insist on. The advice
for the rest of the shelf reckons with the money that it takes.`,
		Example: "  stead reorder at-least TAR-CH9 12 --note \"the post bikes\""}
	return reorderAnswer(cmd, &note, func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error) {
		n, err := pieces(cmd, args[1])
		if err != nil {
			return nil, err
		}
		return wordOn(cmd, w, args[0], shelf.Word{Answer: shelf.AtLeast, Pieces: n})
	})
}

func newReorderUseUp() *cobra.Command {
	var note string
	var stay int
	cmd := &cobra.Command{Use: "use-up PART", Short: "Let quotes prefer a part where it fits: too many of it are there", Args: exactly("PART"),
		Long: `Lets quotes prefer a part of which too many lie on the shelf, where it fits:
to the workshop a piece of it costs only what it brings sold off, and where no
other option takes it one is offered that does. What the customer pays is as
ever, and so is what they must agree to. It ends when no more than --down-to are
free, or with ` + "`stead reorder as-advised`" + `.`,
		Example: "  stead reorder use-up COR-R110-48O-S --down-to 1 --note \"bought for the fleet\""}
	cmd.Flags().IntVar(&stay, "down-to", 0, "how many may stay")
	return reorderAnswer(cmd, &note, func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error) {
		if stay < 0 {
			return nil, usage(cmd, fmt.Errorf("--down-to is a number of pieces, not %d", stay))
		}
		return wordOn(cmd, w, args[0], shelf.Word{Answer: shelf.UseUp, Pieces: stay})
	})
}

func newReorderAsAdvised() *cobra.Command {
	var note string
	cmd := &cobra.Command{Use: "as-advised PART", Short: "Take back what was said of a part: it goes as advised again", Args: exactly("PART"),
		Example: "  stead reorder as-advised KES-B14-G25"}
	return reorderAnswer(cmd, &note, func(cmd *cobra.Command, w *workshop, args []string) ([]shelf.Word, error) {
		return wordOn(cmd, w, args[0], shelf.Word{Answer: shelf.AsAdvised})
	})
}
