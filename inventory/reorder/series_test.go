package reorder

import (
	"compress/gzip"
	"encoding/csv"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
	"stead/inventory/leadtime"
)

func openSeries(t testing.TB, name string) *csv.Reader {
	f, err := os.Open(filepath.Join("../../testdata/series", name))
	require.NoError(t, err)
	t.Cleanup(func() { f.Close() })
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	return csv.NewReader(z)
}

// carParts are 2,674 parts over 51 periods: what sold in a period is one sale on a drawn day.
func carParts(t testing.TB) *World {
	r := openSeries(t, "carparts.csv.gz")
	_, err := r.Read()
	require.NoError(t, err)
	draw := rand.New(rand.NewPCG(17, 1))
	w := &World{Start: 27 * daysPerPeriod, End: 51 * daysPerPeriod}
	for {
		row, err := r.Read()
		if err == io.EOF {
			return w
		}
		require.NoError(t, err)
		item := Item{Name: row[0], Price: 8 * math.Exp(draw.NormFloat64()), Supplier: draw.IntN(4)}
		for period, field := range row[1:] {
			day := period*daysPerPeriod + draw.IntN(daysPerPeriod)
			if n, _ := strconv.Atoi(field); n > 0 {
				item.Sales = append(item.Sales, Sale{Day: day, Pieces: n})
			}
		}
		w.Items = append(w.Items, item)
	}
}

// shop are the sales of a shop for gifts, as they came. It pays half of what it asks.
func shop(t testing.TB) *World {
	r := openSeries(t, "retail.csv.gz")
	_, err := r.Read()
	require.NoError(t, err)
	draw := rand.New(rand.NewPCG(17, 2))
	w := &World{Start: 31 * daysPerPeriod, End: 61 * daysPerPeriod}
	sales, prices := map[string][]Sale{}, map[string][]float64{}
	for {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		day, _ := strconv.Atoi(row[0])
		pieces, _ := strconv.Atoi(row[2])
		price, _ := strconv.ParseFloat(row[3], 64)
		if day >= w.End {
			continue
		}
		sales[row[1]] = append(sales[row[1]], Sale{Day: day, Pieces: pieces})
		prices[row[1]] = append(prices[row[1]], price)
	}
	names := make([]string, 0, len(sales))
	for name := range sales {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		total := 0
		for _, s := range sales[name] {
			total += s.Pieces
		}
		from := draw.IntN(4)
		if float64(total) > 20*61 {
			continue
		}
		slices.Sort(prices[name])
		w.Items = append(w.Items, Item{Name: name, Sales: sales[name], Price: prices[name][len(prices[name])/2] / 2, Supplier: from})
	}
	return w
}

// terms are how a kind of supplier delivers.
type terms struct {
	name   string
	quoted int
	onDay  float64 // of its parcels
	late   float64
	mean   float64 // working days late, of those; the rest comes 10 to 39 days late
}

var (
	short = terms{"short", 3, 0.73, 0.25, 2}
	long  = terms{"long", 15, 0.48, 0.50, 7.5}
)

func (s terms) takes(r *rand.Rand) int {
	switch u := r.Float64(); {
	case u < s.onDay:
		return s.quoted
	case u < s.onDay+s.late:
		late := 1
		for r.Float64() > 1/s.mean {
			late++
		}
		return s.quoted + late
	}
	return s.quoted + 10 + r.IntN(30)
}

// setting completes a world as the protocol has it: four suppliers, twelve receipts each known to every rule.
func setting(w *World, s terms, lookEvery int) *World { return settingOf(w, s, lookEvery, 17) }

// settingOf does so with other luck of the suppliers.
func settingOf(w *World, s terms, lookEvery int, seed uint64) *World {
	played := *w
	played.LookEvery, played.AdviseEvery = lookEvery, 4*daysPerPeriod
	played.LineCost, played.Holding, played.Missed, played.Seed = 1.50, 0.25, 6, seed
	draw := rand.New(rand.NewPCG(seed, 3))
	played.Takes = func(r *rand.Rand, _ *Item) int { return s.takes(r) }
	var receipts []leadtime.Receipt
	for k := range 4 {
		for n := range 12 {
			took := s.takes(draw)
			receipts = append(receipts, leadtime.Receipt{Supplier: strconv.Itoa(k), Quoted: &s.quoted, Took: took,
				Ordered: calendar.Day(10 * n), Arrived: calendar.Day(10*n + took), Signal: leadtime.InStock})
		}
	}
	learnt := leadtime.Learn(receipts, nil, 200)
	played.Items = slices.Clone(w.Items)
	for k := range 4 {
		f := learnt.Forecast(leadtime.Order{Supplier: strconv.Itoa(k), Quoted: &s.quoted, Signal: leadtime.InStock})
		lead := LeadTimeOf(f.OnDay)
		for i := range played.Items {
			if played.Items[i].Supplier == k {
				played.Items[i].Lead = lead
			}
		}
	}
	return &played
}
