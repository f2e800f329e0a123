package main

import (
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"
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
