package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestLeftWords(t *testing.T) {
	for _, c := range []struct {
		name      string
		done, all int64
		gone      time.Duration
		says      string
	}{
		{"a quarter in ten seconds", 1000, 4000, 10 * time.Second, ", about 31 s left"},
		{"a tenth in a minute", 1, 10, time.Minute, ", about 10 min left"},
		{"just begun", 1, 10, time.Second, ""},
		{"nothing done yet", 0, 10, time.Minute, ""},
		{"nobody knows of how many", 5000, 0, time.Minute, ""},
		{"more than was thought", 11, 10, time.Minute, ""},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.says, leftWords(c.done, c.all, c.gone)) })
	}
}
