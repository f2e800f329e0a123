package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"stead/inventory"
	"stead/migrations"
	"stead/migrations/backup"
	"stead/pricing"
)

func newDB() *cobra.Command {
	return group("db", "The database: where it is, a copy, one put back, what was done", newDBStatus(), newDBBackup(), newDBRestore(), newDBRequest(), newDBKeep())
}

func newDBStatus() *cobra.Command {
	cmd := &cobra.Command{Use: "status", Short: "Say which database is used, its version and its size", Args: exactly(), Example: "  stead db status"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, _ []string) error {
		var out struct {
			Where  string `json:"where"`
			Server string `json:"server"`
			Size   string `json:"size"`
			Schema int    `json:"schema"`
			Parts  int    `json:"parts"`
			Jobs   int    `json:"jobs"`
		}
		var err error
		if out.Server, out.Size, err = migrations.Server(cmd.Context(), w); err != nil {
			return err
		}
		if out.Parts, err = inventory.CountParts(cmd.Context(), w); err != nil {
			return err
		}
		if out.Jobs, err = pricing.CountJobs(cmd.Context(), w); err != nil {
			return err
		}
		if out.Schema, err = migrations.Version(cmd.Context(), w); err != nil {
			return err
		}
		at := w.pool.Config().ConnConfig
		out.Where = fmt.Sprintf("%s at %s", at.Database, at.Host)
		return show(cmd, out, func() {
			say(cmd, "database  %s", out.Where)
			say(cmd, "server    PostgreSQL %s", out.Server)
			say(cmd, "schema    version %d, %s", out.Schema, out.Size)
			say(cmd, "holds     %d parts, %d jobs", out.Parts, out.Jobs)
		})
	})
	return cmd
}

func newDBBackup() *cobra.Command {
	cmd := &cobra.Command{Use: "backup FILE", Short: "Write everything to one file, consistent as of one moment", Args: exactly("FILE"), Example: "  stead db backup stead-2026-12-01.backup"}
	cmd.RunE = inWorkshop(func(cmd *cobra.Command, w *workshop, args []string) error {
		if _, err := w.open(cmd.Context()); err != nil {
			return err
		}
		line := newMeter("writing " + args[0])
		err := backup.Save(cmd.Context(), w.dsn, args[0], line.bytes())
		line.end()
		if err != nil {
			return err
		}
		return show(cmd, map[string]string{"file": args[0]}, func() { say(cmd, "everything is in %s", args[0]) })
	})
	return cmd
}

func newDBRestore() *cobra.Command {
	var replace bool
	cmd := &cobra.Command{Use: "restore FILE", Short: "Put a backup back into an empty database", Args: exactly("FILE"), Example: "  stead db restore stead-2026-12-01.backup"}
	cmd.Flags().BoolVar(&replace, "replace", false, "replace what the database holds now")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if cmd.Flags().Changed("request") {
			return usage(cmd, errors.New("a restore takes no --request: what the keys of the database stand for is in the backup"))
		}
		if _, err := os.Stat(args[0]); err != nil {
			return usage(cmd, fmt.Errorf("FILE: %w", err))
		}
		database, err := databaseAddress(cmd, migrations.FindDemo)
		if err != nil {
			return err
		}
		defer database.leave()
		line := newMeter("reading " + args[0])
		err = backup.Restore(cmd.Context(), database.dsn, args[0], replace, line.bytes())
		line.end()
		if err != nil {
			return err
		}
		return show(cmd, map[string]string{"restored": args[0]}, func() { say(cmd, "the database is as it was in %s", args[0]) })
	}
	return cmd
}
