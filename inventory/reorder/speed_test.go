package reorder

import (
	"fmt"
	"runtime"
	"runtime/metrics"
	"syscall"
	"testing"
	"time"
)

// userTime is what this process has used of the processors, whatever else the machine does.
func userTime() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano())
}

// mostLive watches what is in use after each round of the garbage collector, until it is asked for the most of it: what a
// machine must have, whatever the collector leaves lying about meanwhile.
func mostLive() (bytes func() float64) {
	stop, most := make(chan struct{}), make(chan float64)
	go func() {
		peak := uint64(0)
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		for {
			metrics.Read(live)
			peak = max(peak, live[0].Value.Uint64())
			select {
			case <-stop:
				most <- float64(peak)
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	return func() float64 { close(stop); return <-most }
}

// madeShelf is a shelf of made parts over so many weeks.
func madeShelf(parts, weeks int) []Item {
	lead := LeadTimeOf([]float64{0, 0, 0, 0.73, 0.12, 0.06, 0.03, 0.02, 0.01, 0.01, 0, 0, 0, 0, 0, 0.02})
	items := Make(parts, weeks, 8)
	for i := range items {
		items[i].Lead = lead
	}
	return items
}

// The whole shelf weighed, two years of books: what a shop has, and fifty shops' parts in one. User time, on one core.
//
//	go test -run '^$' -bench Weigh -benchtime 1x ./inventory/reorder
func BenchmarkWeigh(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	for _, parts := range []int{3_000, 150_000} {
		b.Run(fmt.Sprintf("%d_parts", parts), func(b *testing.B) {
			b.ReportAllocs()
			of := stockBook(madeShelf(parts, 104))
			terms := Terms{LookEvery: 1, AdviseEvery: 20, LineCost: 1.5, Holding: 0.25, MostYears: 1}
			runtime.GC()
			most := mostLive()
			from := userTime()
			for b.Loop() {
				of.Weigh(0, 104*daysPerPeriod, terms).For(0.95)
			}
			b.ReportMetric(most()/1e6, "MB-live")
			b.ReportMetric((userTime()-from).Seconds()/float64(b.N), "user-s/op")
		})
	}
}
