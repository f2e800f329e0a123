package describe_test

import (
	"bufio"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/pricelist/describe"
)

// BenchmarkRead reads the descriptions of both truth sets over and over on one core; the bar is 200,000 a second.
func BenchmarkRead(b *testing.B) {
	texts := allTexts(b)
	b.ReportAllocs()
	b.ResetTimer()
	for i := range b.N {
		describe.Read(texts[i%len(texts)])
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "descriptions/s")
}

func allTexts(tb testing.TB) []string {
	files, err := filepath.Glob("../../../testdata/pricelist/truth-*.jsonl")
	require.NoError(tb, err)
	var texts []string
	for _, file := range files {
		f, err := os.Open(file)
		require.NoError(tb, err)
		lines := bufio.NewScanner(f)
		for lines.Scan() {
			var line truth
			require.NoError(tb, json.Unmarshal(lines.Bytes(), &line))
			texts = append(texts, line.Text)
		}
		require.NoError(tb, f.Close())
	}
	require.NotEmpty(tb, texts)
	return texts
}
