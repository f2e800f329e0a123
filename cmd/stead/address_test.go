package main

import (
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"stead/migrations"
)

// TestDemoStandsBesideTheWorkshop says for each way to name a database which one the demo is kept in.
func TestDemoStandsBesideTheWorkshop(t *testing.T) {
	const own = "postgres://bench@127.0.0.1:1/tannery"
	for name, c := range map[string]struct {
		flag, environment  string
		workshop, database string
	}{
		"nothing named":               {"", "", "", "stead_demo"},
		"the demo by the flag":        {"demo", "", "", "stead_demo"},
		"the demo by the environment": {"", "demo", "", "stead_demo"},
		"the demo by both":            {"demo", "demo", "", "stead_demo"},
		"beside one's own":            {"demo", own, own, "tannery_demo"},
		"one's own by the flag":       {own, "demo", own, "tannery_demo"},
		"nothing but a user":          {"", "postgres://bench@127.0.0.1:1", "postgres://bench@127.0.0.1:1", "bench_demo"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Setenv("DATABASE_URL", c.environment)
			cmd := &cobra.Command{}
			cmd.Flags().String("database", c.flag, "")
			workshop, database, err := demoName(cmd)
			require.NoError(t, err)
			require.Equal(t, c.workshop, workshop)
			require.Equal(t, c.database, database)
		})
	}
}

// A sentence about the address says what that was given by.
func TestAddressIsSaidAsItWasGiven(t *testing.T) {
	const own = "postgres://bench@127.0.0.1:1/tannery"
	for name, c := range map[string]struct{ flag, environment, by string }{
		"the flag":                    {own, "", "--database"},
		"the flag over the other":     {own, own, "--database"},
		"the environment":             {"", own, "DATABASE_URL"},
		"the demo beside one's own":   {"demo", own, "DATABASE_URL"},
		"the demo by the flag":        {"demo", "", "--database"},
		"the demo by the environment": {"", "demo", "DATABASE_URL"},
		"nothing":                     {"", "", migrations.Address},
	} {
		t.Run(name, func(t *testing.T) {
			t.Setenv("DATABASE_URL", c.environment)
			root := newRoot()
			require.NoError(t, root.PersistentFlags().Set("database", c.flag))
			require.Equal(t, "correct "+c.by+", please", byWhichAddress("correct "+migrations.Address+", please", addressBy(root)))
		})
	}
}
