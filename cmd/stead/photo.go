package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strconv"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/terminal"
	"stead/inventory"
	"stead/inventory/photo"
	"stead/inventory/photo/picture"
	"stead/substitution"
)

func newPhoto() *cobra.Command {
	return group("photo", "Photos of what was found, of bikes and of parts", newPhotoAdd(), newPhotoList(), newPhotoSet(), newPhotoSave(), newPhotoTakeOff())
}

// addOf adds the flags that say what a photo is of.
func addOf(cmd *cobra.Command) func() (photo.Of, error) {
	job := cmd.Flags().String("job", "", "number of the job for which a place was looked at")
	place := cmd.Flags().String("place", "", "that place, such as chain")
	bike := cmd.Flags().String("bike", "", "number of the bike")
	part := cmd.Flags().String("part", "", "number of the part")
	return func() (of photo.Of, err error) {
		given := 0
		for _, one := range []struct {
			kind, text string
			into       *int64
		}{{"job", *job, &of.JobID}, {"bike", *bike, &of.BikeID}, {"part", *part, &of.PartID}} {
			if one.text == "" {
				continue
			}
			given++
			if *one.into, err = numbered(cmd, one.kind, one.text); err != nil {
				return of, err
			}
		}
		if given != 1 {
			return of, usage(cmd, errors.New("say what it is of: --job with --place, --bike, or --part"))
		}
		if of.Place = substitution.Place(*place); of.Place != "" {
			if _, err := substitution.SiteOf(of.Place); err != nil {
				return of, err
			}
			if of.JobID == 0 {
				return of, usage(cmd, errors.New("--place is one that was looked at for a job: say which with --job"))
			}
		}
		return of, nil
	}
}

func newPhotoAdd() *cobra.Command {
	var words string
	var shown bool
	cmd := &cobra.Command{Use: "add FILE", Short: "Keep a photo of a place of a job, of a bike or of a part", Args: exactly("FILE"),
		Example: "  stead photo add teeth.jpg --job 101 --place chain --words \"hooked\" --show\n  stead photo add teeth.jpg --bike 1\n  stead photo add teeth.jpg --part 71",
		Long: fmt.Sprintf(`Keeps a photo in the database, so that a backup has it: upright, at most %d
pixels long, and without what the camera noted of when, where and with what it
was taken. JPEG, PNG, WebP and GIF are read, up to %d MB and %d megapixels.`, picture.Longest, picture.MostBytes>>20, picture.MostPixels/1_000_000)}
	of := addOf(cmd)
	cmd.Flags().StringVar(&words, "words", "", "what stands below it")
	cmd.Flags().BoolVar(&shown, "show", false, "show it to the customer, on the quote too")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		what, err := of()
		if err != nil {
			return err
		}
		if what.JobID != 0 && what.Place == "" {
			return usage(cmd, errors.New("say at which place of the bike: --place"))
		}
		file, err := os.Open(args[0])
		if err != nil {
			return fmt.Errorf("read the photo: %w", err)
		}
		defer file.Close() // only read from
		taken, err := picture.Read(file)
		if err != nil {
			return fmt.Errorf("%s: %w", args[0], err)
		}
		kept, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (photo.Photo, error) {
			return photo.Add(ctx, tx, photo.Photo{Of: what, Words: words, Shown: shown, TakenAt: now()}, taken)
		})
		if err != nil {
			return err
		}
		return show(cmd, kept, func() { say(cmd, "%s", desk.Photo{Photo: kept}.Line()) })
	})
	return cmd
}

func newPhotoList() *cobra.Command {
	cmd := &cobra.Command{Use: "list", Short: "List the photos of a job, a bike or a part", Args: exactly(),
		Example: "  stead photo list --job 101\n  stead photo list --bike 1"}
	of := addOf(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		what, err := of()
		if err != nil {
			return err
		}
		all, err := desk.LoadPhotos(cmd.Context(), w, what)
		if err != nil {
			return err
		}
		return show(cmd, all, func() {
			var rows [][]string
			for _, p := range all {
				shown := "no"
				if p.Shown {
					shown = "yes"
				}
				rows = append(rows, []string{strconv.FormatInt(p.ID, 10), p.Whose(), p.Words, shown, fmt.Sprintf("%d × %d", p.Width, p.Height)})
			}
			if len(rows) == 0 {
				say(cmd, "no photo is kept of it")
				return
			}
			terminal.Table(cmd.OutOrStdout(), []string{">PHOTO", "OF", "WORDS", "SHOWN", "PIXELS"}, rows)
		})
	})
	return cmd
}

func newPhotoSet() *cobra.Command {
	var words string
	var shown bool
	cmd := &cobra.Command{Use: "set PHOTO", Short: "Change a photo's words, or whether the customer sees it", Args: exactly("PHOTO"),
		Example: "  stead photo set 1 --show=false\n  stead photo set 1 --words \"hooked teeth\""}
	cmd.Flags().StringVar(&words, "words", "", "what stands below it; empty takes it away")
	cmd.Flags().BoolVar(&shown, "show", false, "show it to the customer, on the quote too")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "photo", args[0])
		if err != nil {
			return err
		}
		if err := checkChanged(cmd, "words", "show"); err != nil {
			return err
		}
		kept, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (photo.Photo, error) {
			return photo.Set(ctx, tx, id, func(p *photo.Photo) {
				if cmd.Flags().Changed("words") {
					p.Words = words
				}
				if cmd.Flags().Changed("show") {
					p.Shown = shown
				}
			})
		})
		if err != nil {
			return err
		}
		return show(cmd, kept, func() { say(cmd, "%s", desk.Photo{Photo: kept}.Line()) })
	})
	return cmd
}

func newPhotoSave() *cobra.Command {
	var replace bool
	cmd := &cobra.Command{Use: "save PHOTO", Short: "Write a photo to a file", Args: exactly("PHOTO"), Example: "  stead photo save 1 --out hooked.jpg"}
	out := cmd.Flags().String("out", "", "where to write it, such as teeth.jpg")
	cmd.Flags().BoolVar(&replace, "replace", false, "write over what is there already")
	needed(cmd, "out")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "photo", args[0])
		if err != nil {
			return err
		}
		data, err := photo.JPEG(cmd.Context(), w, id, false)
		if err != nil {
			return err
		}
		if err := writeWhole(*out, data, replace); err != nil {
			return err
		}
		return show(cmd, map[string]any{"photo": id, "file": *out}, func() { say(cmd, "photo %d in %s", id, *out) })
	})
	return cmd
}

func newPhotoTakeOff() *cobra.Command {
	cmd := &cobra.Command{Use: "take-off PHOTO", Short: "Take a photo off for good; who and why is kept", Args: exactly("PHOTO"),
		Example: "  stead photo take-off 2 --why \"a face is in it\" --by \"Tamsin Reeve\""}
	by := addHand(cmd)
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "photo", args[0])
		if err != nil {
			return err
		}
		gone, err := correct(cmd, w, by, func(ctx context.Context, tx pgx.Tx, hand inventory.Hand) (photo.Photo, error) {
			return photo.TakeOff(ctx, tx, id, hand)
		})
		if err != nil {
			return err
		}
		return show(cmd, gone, func() { say(cmd, "photo %d of %s is taken off", id, desk.Photo{Photo: gone}.Whose()) })
	})
	return cmd
}
