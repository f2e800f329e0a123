package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/ical"
	"stead/cmd/stead/internal/terminal"
	"stead/pricing"
)

func newCalendar() *cobra.Command {
	return group("calendar", "The promised days, for any program that shows calendars", newCalendarShow(), newCalendarLink(), newCalendarLinks(), newCalendarRevoke())
}

func newCalendarShow() *cobra.Command {
	cmd := &cobra.Command{Use: "show", Short: "Print the promised days as an iCalendar", Args: exactly(),
		Long: `Prints the days that were promised and not kept yet as an iCalendar, which
programs that show calendars read. It names jobs and bikes, and no customer.`,
		Example: "  stead calendar show > promised.ics"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		if asJSON, _ := cmd.Flags().GetBool("json"); asJSON {
			all, err := pricing.Promises(cmd.Context(), w)
			if err != nil {
				return err
			}
			return show(cmd, all, nil)
		}
		c, err := desk.LoadPromised(cmd.Context(), w, "")
		if err != nil {
			return err
		}
		return ical.Write(cmd.OutOrStdout(), c)
	})
	return cmd
}

func newCalendarLink() *cobra.Command {
	var public string
	cmd := &cobra.Command{Use: "link WHOSE", Short: "Make a link by which a calendar program asks for the promised days", Args: exactly("WHOSE"),
		Long: `Makes a link by which a calendar program asks ` + "`stead serve`" + ` for the promised
days, again and again. Whoever has it can read them, so make one for each device
and take it back when that is lost. It is shown once: only its hash is kept.`,
		Example: "  stead calendar link \"the bench tablet\" --public https://bench.example"}
	cmd.Flags().StringVar(&public, "public", "", "address by which the pages are reached, such as https://bench.example")
	needed(cmd, "public")
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if err := checkPublic(public); err != nil {
			return usage(cmd, err)
		}
		secret := rand.Text()
		f, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (pricing.Feed, error) {
			return pricing.MakeFeed(ctx, tx, args[0], secret, now())
		})
		if err != nil {
			return err
		}
		// Asked for once more under the same key it was made before, with a secret that nobody knows any more.
		if err := pricing.FollowFeed(cmd.Context(), w, secret); err != nil {
			return fmt.Errorf("link %d was made and shown before: take it back with `stead calendar revoke %d` and make another", f.ID, f.ID)
		}
		link := strings.TrimRight(public, "/") + "/calendar/" + secret
		return show(cmd, map[string]any{"id": f.ID, "whose": f.Whose, "link": link}, func() { fmt.Fprintln(cmd.OutOrStdout(), link) })
	})
	return cmd
}

func newCalendarLinks() *cobra.Command {
	cmd := &cobra.Command{Use: "links", Short: "List the links that were made to the calendar", Args: exactly(), Example: "  stead calendar links"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		all, err := pricing.Feeds(cmd.Context(), w)
		if err != nil {
			return err
		}
		return show(cmd, all, func() {
			var rows [][]string
			for _, f := range all {
				until := ""
				if f.RevokedAt != nil {
					until = desk.At(now()).Date(*f.RevokedAt)
				}
				rows = append(rows, []string{strconv.FormatInt(f.ID, 10), f.Whose, desk.At(now()).Date(f.MadeAt), until})
			}
			terminal.Table(cmd.OutOrStdout(), []string{">LINK", "WHOSE", "MADE", "TAKEN BACK"}, rows)
		})
	})
	return cmd
}

func newCalendarRevoke() *cobra.Command {
	cmd := &cobra.Command{Use: "revoke LINK", Short: "Take a link to the calendar back", Args: exactly("LINK"), Example: "  stead calendar revoke 1"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		id, err := numbered(cmd, "link", args[0])
		if err != nil {
			return err
		}
		if _, err := change(cmd, w, func(ctx context.Context, tx pgx.Tx, _ string) (bool, error) {
			return true, pricing.RevokeFeed(ctx, tx, id, now())
		}); err != nil {
			return err
		}
		return show(cmd, map[string]int64{"revoked": id}, func() { say(cmd, "link %d is taken back", id) })
	})
	return cmd
}
