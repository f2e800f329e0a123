package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/pricing/billing"
	"stead/substitution"
	"stead/substitution/inspection"
)

func newJob() *cobra.Command {
	return group("job", "A bike in the workshop, from booking in to handing back",
		newJobNew(), newJobRecord(), newJobInspect(), newJobNote(), newJobLimit(), newJobAnswer(), newJobVouch(), newJobOptions(), newJobWhy(), newJobQuote(), newJobApprove(), newJobAmend(), newJobDecline(), newJobLeaveOut(), newJobIfOpened(), newJobWork(), newJobDiscount(), newJobOwn(), newJobPay(), newJobCard(), newJobShow(), newJobList(), newJobUse(), newJobClose(), newJobCancel(), newJobLost(), newJobWishes(), newJobSet(), newJobUnbook(), newJobReopen(), newJobRelease())
}

func jobNumber(cmd *cobra.Command, text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0, usage(cmd, fmt.Errorf("a job is named by its number, not %q", text))
	}
	return id, nil
}

// day reads a date flag; an empty text is none.
func day(cmd *cobra.Command, flag, text string) (*calendar.Day, error) {
	if text == "" {
		return nil, nil
	}
	d, err := calendar.ParseDay(text)
	if err != nil {
		return nil, usage(cmd, fmt.Errorf("%s: %w", flag, err))
	}
	return &d, nil
}

// comingDay reads the flag of a day that is still to come; an empty text is none.
func comingDay(cmd *cobra.Command, flag, text string) (*calendar.Day, error) {
	d, err := day(cmd, flag, text)
	if err == nil && d != nil && *d < today() {
		return nil, usage(cmd, fmt.Errorf("%s: %s has passed: give a day from today on", flag, d))
	}
	return d, err
}

// readBuild reads what is fitted where from a file.
func readBuild(file string) (substitution.Build, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("--build: %w", err)
	}
	if !utf8.Valid(data) || bytes.Contains(data, []byte(`\u0000`)) {
		return nil, fmt.Errorf("--build %s: a text in it holds a character that no text can have (a null, or bytes that are not UTF-8): take it out", file)
	}
	var b substitution.Build
	if err := json.Unmarshal(data, &b); err != nil {
		return nil, fmt.Errorf("--build %s: %w", file, err)
	}
	for place := range b {
		if _, err := substitution.SiteOf(place); err != nil {
			return nil, fmt.Errorf("--build %s: %w", file, err)
		}
	}
	return b, nil
}

func newJobRecord() *cobra.Command {
	var name string
	origin := substitution.Measured
	var unknown bool
	cmd := &cobra.Command{Use: "record JOB PLACE [DIMENSION=VALUE …]", ValidArgsFunction: complete(nil, placeNames), Short: "Record what is fitted at a place of the job's bike",
		Example: "  stead job record 101 crank.outer-ring teeth=50 bcd_mm=110 colour=black \\\n      --name \"outer ring\"\n  stead job record 101 bottom-bracket --unknown",
		Args:    atLeast("JOB", "PLACE")}
	cmd.Flags().StringVar(&name, "name", "", "what it is called")
	addOrigin(cmd, &origin)
	cmd.Flags().BoolVar(&unknown, "unknown", false, "a part is there and nothing is known of it yet")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		site, err := substitution.SiteOf(substitution.Place(args[1]))
		if err != nil {
			return usage(cmd, err)
		}
		var part *substitution.Part
		if !unknown {
			spec, err := dimensions(cmd, site.Family, args[2:], origin)
			if err != nil {
				return err
			}
			part = &substitution.Part{Family: site.Family, Name: name, Spec: spec}
		}
		_, err = change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (string, error) {
			return args[1], pricing.RecordFitted(ctx, tx, id, site.Place, part)
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]any{"job": id, "place": site.Place, "part": part}, func() { say(cmd, "%s recorded", site.Words) })
	})
	return cmd
}

func newJobInspect() *cobra.Command {
	var action string
	var visit inspection.Taken
	cmd := &cobra.Command{Use: "inspect JOB PLACE [READING=VALUE …]", ValidArgsFunction: complete(nil, placeNames), Short: "Record what was found at a place",
		Long: `Records what was found at a place. What is read there adds up over several
calls: all of it is judged, and what asks for most stands. A reading that was
wrong is put right with --correct, or struck with --take-back, and all that was
found at a place with --forget; --action is the mechanic's own word over all
that was read so far.`,
		Example: "  stead job inspect 101 chain wear_percent=0.8\n  stead job inspect 101 chain wear_percent=0.6 --correct\n  stead job inspect 101 rear.hub play=slight feel=smooth --action adjust",
		Args:    atLeast("JOB", "PLACE")}
	cmd.Flags().StringVar(&action, "action", "", "keep, clean, adjust or replace (default what the readings propose)")
	cmd.Flags().StringVar(&visit.Note, "note", "", "a remark")
	cmd.Flags().BoolVar(&visit.Correct, "correct", false, "these readings take the place of what was read before by their names")
	cmd.Flags().BoolVar(&visit.Forget, "forget", false, "all that was found at the place before was a mistake")
	cmd.Flags().StringArrayVar(&visit.TakeBack, "take-back", nil, "a reading that was a mistake, by name")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		site, err := substitution.SiteOf(substitution.Place(args[1]))
		if err != nil {
			return usage(cmd, err)
		}
		visit.Place = site.Place
		if visit.Readings, err = readings(cmd, site.Family, args[2:]); err != nil {
			return err
		}
		if action != "" {
			if visit.Action, err = inspection.ParseAction(action); err != nil {
				return usage(cmd, err)
			}
		}
		found, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Found, error) {
			return pricing.Inspect(ctx, tx, id, visit, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, found, func() {
			for _, f := range desk.TellFound(found) {
				printFinding(cmd, f)
			}
		})
	})
	return cmd
}

// readings reads arguments such as wear_percent=0.8 against what can be read of a family.
func readings(cmd *cobra.Command, family substitution.Family, args []string) (inspection.Readings, error) {
	out := inspection.Readings{}
	for _, arg := range args {
		name, text, ok := strings.Cut(arg, "=")
		if !ok {
			return nil, usage(cmd, fmt.Errorf("%q is no reading: write NAME=VALUE, such as wear_percent=0.8", arg))
		}
		v, err := inspection.Parse(family, name, text)
		if err != nil {
			return nil, usage(cmd, err)
		}
		if before, twice := out[name]; twice && !before.Equal(v) {
			return nil, usage(cmd, fmt.Errorf("%s is given as %s and as %s: say it once", name, before, v))
		}
		out[name] = v
	}
	return out, nil
}

func newJobUse() *cobra.Command {
	cmd := &cobra.Command{Use: "use JOB", Short: "Take everything that is held for a job off the shelf", Args: exactly("JOB"), Example: "  stead job use 101"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		used, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) ([]inventory.Reservation, error) {
			return pricing.UseHeld(ctx, tx, key, id)
		})
		if err != nil {
			return err
		}
		ids := make([]int64, len(used))
		for i, r := range used {
			ids[i] = r.PartID
		}
		parts, err := inventory.Parts(cmd.Context(), w, ids)
		if err != nil {
			return err
		}
		return show(cmd, used, func() {
			if len(used) == 0 {
				say(cmd, "nothing is held for job %d", id)
			}
			for i, r := range used {
				part := parts[r.PartID]
				say(cmd, "%s: %d of %s", desk.SiteWords(r.Place), r.Pieces, part.Name)
				if i+1 < len(used) && used[i+1].Place == r.Place && used[i+1].PartID == r.PartID {
					continue // said once of two that are alike
				}
				for _, words := range substitution.TorqueWords(r.Place, &part.Part) {
					say(cmd, "  torque: %s", words)
				}
			}
		})
	})
	return cmd
}

func newJobClose() *cobra.Command {
	var leaveOut bool
	var paid string
	var dated billing.Dated
	cmd := &cobra.Command{Use: "close JOB", Short: "Hand the bike back when the work is done", Args: exactly("JOB"), Example: "  stead job close 101 --paid card\n  stead job close 101 --leave-out"}
	cmd.Flags().StringVar(&paid, "paid", "", "how it is paid: cash, card, transfer; writes its bill")
	datedFlag(cmd, &dated)
	cmd.Flags().BoolVar(&leaveOut, "leave-out", false, "give back what is held and do without what has not come")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if paid == "" {
			return endJob(cmd, w, id, func(ctx context.Context, tx pgx.Tx) error { return pricing.CloseJob(ctx, tx, id, leaveOut, now()) })
		}
		type closed struct {
			desk.Ended
			Bill desk.Bill `json:"bill"`
		}
		out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (out closed, err error) {
			if err = pricing.CloseJob(ctx, tx, id, leaveOut, now()); err != nil {
				return out, err
			}
			if out.Ended, err = desk.LoadEnded(ctx, tx, id, now()); err != nil {
				return out, err
			}
			b, err := billing.MakePaid(ctx, tx, id, paid, billing.Moment{Now: now(), Dated: dated})
			if err != nil {
				return out, err
			}
			out.Bill, err = desk.LoadPaid(ctx, tx, b, now())
			return out, err
		})
		if err != nil {
			return err
		}
		return show(cmd, out, func() {
			say(cmd, "job %d is %s", id, out.State)
			indented(cmd, out.Words)
			say(cmd, "")
			printBill(cmd, out.Bill)
			sayLacking(cmd, out.Bill)
		})
	})
	return cmd
}

func newJobCancel() *cobra.Command {
	var why string
	var because pricing.Because
	parts := pricing.PartsToShelf
	cmd := &cobra.Command{Use: "cancel JOB", Short: "Give a job up, and say what becomes of its parts: nothing is due", Args: exactly("JOB"),
		Long: `Gives a job up. Its parts go to the shelf, stay held for the customer until
stead job release, or go back: what was ordered for it to its supplier with a
credit expected, the rest to the shelf. What is on order comes for the shelf.`,
		Example: "  stead job cancel 101 --why \"sold the bike\"\n  stead job cancel 101 --why \"sold the bike\" --parts return"}
	cmd.Flags().StringVar(&why, "why", "", "the reason, kept with the job")
	words := oneOf[pricing.PartsGo]{&parts, []pricing.PartsGo{pricing.PartsToShelf, pricing.PartsHeld, pricing.PartsBack}}
	cmd.Flags().Var(words, "parts", "what becomes of its parts: "+words.List())
	reasons := oneOf[pricing.Because]{&because, pricing.Reasons}
	cmd.Flags().Var(reasons, "because", "why its quote came to nothing: "+reasons.List())
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if strings.TrimSpace(why) == "" {
			return usage(cmd, errors.New("--why is needed: the reason why the job is given up"))
		}
		var back []inventory.Return
		err = endJobBy(cmd, w, id, func(ctx context.Context, tx pgx.Tx, key string) (err error) {
			if back, err = pricing.CancelWith(ctx, tx, key, id, why, parts, now()); err != nil || because == "" {
				return err
			}
			return pricing.SayLost(ctx, tx, id, 0, because, why, now())
		})
		if asked, _ := cmd.Flags().GetBool("json"); err == nil && !asked {
			for _, r := range back {
				say(cmd, "  %s", desk.ReturnWords(r))
			}
		}
		return err
	})
	return cmd
}

// endJob closes or cancels a job and says how it ended.
func endJob(cmd *cobra.Command, w *workshop, id int64, end func(ctx context.Context, tx pgx.Tx) error) error {
	return endJobBy(cmd, w, id, func(ctx context.Context, tx pgx.Tx, _ string) error { return end(ctx, tx) })
}

// endJobBy is endJob for what moves stock under the request's key.
func endJobBy(cmd *cobra.Command, w *workshop, id int64, end func(ctx context.Context, tx pgx.Tx, key string) error) error {
	out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, key string) (desk.Ended, error) {
		if err := end(ctx, tx, key); err != nil {
			return desk.Ended{}, err
		}
		return desk.LoadEnded(ctx, tx, id, now())
	})
	if err != nil {
		return err
	}
	return show(cmd, out, func() {
		say(cmd, "job %d is %s", id, out.State)
		indented(cmd, out.Words)
	})
}

func newJobWishes() *cobra.Command {
	cmd := &cobra.Command{Use: "wishes", Short: "List remembered wishes that can be met now", Args: exactly(), Example: "  stead job wishes"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		granted, err := desk.LoadWishes(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, granted, func() {
			if len(granted) == 0 {
				say(cmd, "no remembered wish can be met now")
			}
			for _, g := range granted {
				say(cmd, "%s", desk.WhoseWish(g))
			}
		})
	})
	return cmd
}
