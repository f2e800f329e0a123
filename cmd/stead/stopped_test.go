package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

func TestStoppedSaysSo(t *testing.T) {
	address := testdb.New(t).Config().ConnString()
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var out, errs bytes.Buffer
	require.Equal(t, 1, run(ctx, []string{"job", "list", "--database", address}, strings.NewReader(""), &out, &errs))
	require.Equal(t, "stead: stopped: what was under way is not done, and nothing is half done\n", errs.String())
	require.Empty(t, out.String())
}
