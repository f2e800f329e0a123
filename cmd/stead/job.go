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

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/pricing"
	"stead/substitution"
	"stead/substitution/inspection"
)

func newJob() *cobra.Command {
	return group("job", "A bike in the workshop, from booking in to handing back",
		newJobNew(), newJobRecord(), newJobInspect(), newJobNote(), newJobLimit(), newJobOptions(), newJobWhy(), newJobQuote(), newJobApprove(), newJobShow(), newJobList(), newJobUse(), newJobClose(), newJobCancel(), newJobWishes())
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

func newJobNew() *cobra.Command {
	var bike pricing.Bike
	var limits pricing.Limits
	var wish, wanted, latest, most, build string
	cmd := &cobra.Command{Use: "new", Short: "Book a bike in", Args: exactly(),
		Example: "  stead job new --customer \"Ines Falkner\" --bike \"blue touring bike\" \\\n      --wanted-by 2026-12-11 --build bike.json --same-finish"}
	f := cmd.Flags()
	f.StringVar(&bike.Customer.Name, "customer", "", "whose bike it is")
	f.StringVar(&bike.Customer.Contact, "contact", "", "how to reach them")
	f.StringVar(&bike.Words, "bike", "", "a few words to know the bike by")
	f.StringVar(&build, "build", "", "JSON file of what is fitted: {\"chain\": {\"family\": \"chain\", \"spec\": {\"speeds\": [9]}}, \"crank\": null}")
	readsFile(cmd, "build")
	f.StringVar(&wish, "wish", "", "what the customer asks, in their words")
	f.StringVar(&wanted, "wanted-by", "", "when they would like it back (2026-12-11)")
	f.StringVar(&latest, "latest", "", "parts must be here by this day")
	f.StringVar(&most, "most", "", "most to spend on it, tax included")
	f.BoolVar(&limits.SameFinish, "same-finish", false, "it must look as before")
	f.BoolVar(&limits.NoFunctionChange, "no-function-change", false, "it must ride and shift as before")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		if bike.Customer.Name == "" || bike.Words == "" {
			return usage(cmd, fmt.Errorf("--customer and --bike are needed: whose bike it is, and a few words to know it by"))
		}
		wantedBy, err := comingDay(cmd, "--wanted-by", wanted)
		if err != nil {
			return err
		}
		if limits.Latest, err = comingDay(cmd, "--latest", latest); err != nil {
			return err
		}
		if limits.MostToSpend, err = amount(cmd, "--most", most); err != nil {
			return err
		}
		if build != "" {
			if bike.Build, err = readBuild(build); err != nil {
				return usage(cmd, err)
			}
		}
		id, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (int64, error) {
			added, err := pricing.AddBike(ctx, tx, bike)
			if err != nil {
				return 0, err
			}
			return pricing.OpenJob(ctx, tx, added.ID, wish, wantedBy, limits, now())
		})
		if err != nil {
			return err
		}
		return show(cmd, map[string]int64{"job": id}, func() { say(cmd, "job %d: %s's %s", id, bike.Customer.Name, bike.Words) })
	})
	return cmd
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
wrong is put right with --correct, or struck with --take-back; --action is the
mechanic's own word over all that was read so far.`,
		Example: "  stead job inspect 101 chain wear_percent=0.8\n  stead job inspect 101 chain wear_percent=0.6 --correct\n  stead job inspect 101 rear.hub play=slight feel=smooth --action adjust",
		Args:    atLeast("JOB", "PLACE")}
	cmd.Flags().StringVar(&action, "action", "", "keep, clean, adjust or replace (default what the readings propose)")
	cmd.Flags().StringVar(&visit.Note, "note", "", "a remark")
	cmd.Flags().BoolVar(&visit.Correct, "correct", false, "these readings take the place of what was read before by their names")
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
			printFinding(cmd, found.Finding)
			for _, f := range found.Follows {
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
			for _, r := range used {
				say(cmd, "%s: %d of %s", siteWords(substitution.Place(r.Place)), r.Pieces, parts[r.PartID].Name)
			}
		})
	})
	return cmd
}

func newJobClose() *cobra.Command {
	var leaveOut bool
	cmd := &cobra.Command{Use: "close JOB", Short: "Hand the bike back when the work is done", Args: exactly("JOB"), Example: "  stead job close 101\n  stead job close 101 --leave-out"}
	cmd.Flags().BoolVar(&leaveOut, "leave-out", false, "give back what is held and do without what has not come")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		return endJob(cmd, w, id, func(ctx context.Context, tx pgx.Tx) error { return pricing.CloseJob(ctx, tx, id, leaveOut, now()) })
	})
	return cmd
}

func newJobCancel() *cobra.Command {
	var why string
	cmd := &cobra.Command{Use: "cancel JOB", Short: "Give a job up: its parts go to the shelf, and nothing is due", Args: exactly("JOB"), Example: "  stead job cancel 101 --why \"sold the bike\""}
	cmd.Flags().StringVar(&why, "why", "", "the reason, kept with the job")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := jobNumber(cmd, args[0])
		if err != nil {
			return err
		}
		if strings.TrimSpace(why) == "" {
			return usage(cmd, errors.New("--why is needed: the reason why the job is given up"))
		}
		return endJob(cmd, w, id, func(ctx context.Context, tx pgx.Tx) error { return pricing.CancelJob(ctx, tx, id, why, now()) })
	})
	return cmd
}

// endJob closes or cancels a job and says how it ended.
func endJob(cmd *cobra.Command, w *workshop, id int64, end func(ctx context.Context, tx pgx.Tx) error) error {
	type ended struct {
		Job    int64            `json:"job"`
		State  pricing.JobState `json:"state"`
		Ending *pricing.Ending  `json:"ending"`
	}
	out, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (ended, error) {
		if err := end(ctx, tx); err != nil {
			return ended{}, err
		}
		job, err := pricing.JobByID(ctx, tx, id)
		return ended{id, job.State, job.Ending}, err
	})
	if err != nil {
		return err
	}
	shop, err := inventory.LoadShop(cmd.Context(), w)
	if err != nil {
		return err
	}
	return show(cmd, out, func() {
		say(cmd, "job %d is %s", id, out.State)
		printEnding(cmd, out.Ending, shop.Currency)
	})
}

func newJobWishes() *cobra.Command {
	cmd := &cobra.Command{Use: "wishes", Short: "List remembered wishes that can be met now", Args: exactly(), Example: "  stead job wishes"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		granted, err := pricing.GrantableWishes(cmd.Context(), w, now())
		if err != nil {
			return err
		}
		return show(cmd, granted, func() {
			if len(granted) == 0 {
				say(cmd, "no remembered wish can be met now")
			}
			for _, g := range granted {
				say(cmd, "%s: %s — %s, %s", g.Owner, g.Wish.Words, g.Part.Name, g.Source)
			}
		})
	})
	return cmd
}
