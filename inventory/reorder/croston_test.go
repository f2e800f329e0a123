package reorder

import (
	"encoding/csv"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// seriesByName are the shipped series as counts: car parts by month, an empty one being 0, and the shop's articles by
// five trading days.
func seriesByName(t testing.TB) map[string][]int {
	all := map[string][]int{}
	cars := openSeries(t, "carparts.csv.gz")
	heading, err := cars.Read()
	require.NoError(t, err)
	for {
		row, err := cars.Read()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		counts := make([]int, len(heading)-1)
		for i, field := range row[1:] {
			counts[i], _ = strconv.Atoi(field) // empty: none
		}
		all[row[0]] = counts
	}
	sales := openSeries(t, "retail.csv.gz")
	_, err = sales.Read()
	require.NoError(t, err)
	for {
		row, err := sales.Read()
		if err == io.EOF {
			return all
		}
		require.NoError(t, err)
		day, _ := strconv.Atoi(row[0])
		pieces, _ := strconv.Atoi(row[2])
		if all[row[1]] == nil {
			all[row[1]] = make([]int, 61)
		}
		all[row[1]][day/daysPerPeriod] += pieces
	}
}

// The forecasts are those of R's package forecast 8.20, function croston with h = 1 and alpha = 0.1, as it gave them
// under R 4.2.2 for the first 200 car parts and the shop's first 100 articles by their codes.
func TestCrostonIsThatOfR(t *testing.T) {
	f, err := os.Open(filepath.Join("testdata", "croston.csv"))
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	series := seriesByName(t)
	for _, row := range rows[1:] {
		want, err := strconv.ParseFloat(row[1], 64)
		require.NoError(t, err)
		require.InDelta(t, want, crostonRate(series[row[0]]), 1e-9, row[0])
	}
}

// crostonRate is the uncorrected forecast; nothing sold is 0.
func crostonRate(counts []int) float64 {
	amount, interval := croston(counts, 0.1)
	if amount == 0 {
		return 0
	}
	return amount / interval
}

// How long the forecast of a car part takes, and how long R's croston takes in the same run, where R and its package
// are there.
//
//	go test -run '^$' -bench Croston ./inventory/reorder
func BenchmarkCroston(b *testing.B) {
	const few = 40
	var lines []string
	var all [][]int
	series := seriesByName(b)
	for _, name := range slices.Sorted(maps.Keys(series)) {
		if counts := series[name]; len(counts) == 51 && len(all) < few { // a car part's
			all = append(all, counts)
			lines = append(lines, strings.Trim(strings.ReplaceAll(fmt.Sprint(counts), " ", ","), "[]"))
		}
	}
	n := 0
	from := userTime()
	for b.Loop() {
		forecastDemand(all[n%few])
		n++
	}
	ours := (userTime() - from).Seconds() / float64(n)
	b.ReportMetric(ours*1e9, "user-ns/op")
	r := exec.Command("Rscript", "-e", `suppressMessages(library(forecast)); m <- as.matrix(read.csv(file("stdin"), header=FALSE)); `+
		`cat(system.time(apply(m, 1, function(y) croston(ts(y), h=1, alpha=0.1)$mean[1]))[["user.self"]])`)
	r.Stdin = strings.NewReader(strings.Join(lines, "\n"))
	out, err := r.Output()
	if err != nil {
		b.Logf("R with its package forecast is not here, so nothing is compared: %v", err)
		return
	}
	theirs, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	require.NoError(b, err)
	b.Logf("R's croston takes %v a series, ours %v: %.0f times as long", time.Duration(theirs/few*1e9), time.Duration(ours*1e9), theirs/few/ours)
}
