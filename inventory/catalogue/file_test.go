package catalogue

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist"
)

func open(t testing.TB, data []byte) *pricelist.File {
	t.Helper()
	f, err := pricelist.Open("list.csv", bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, f.Close()) })
	return f
}
