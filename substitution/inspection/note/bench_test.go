package note_test

import (
	"strings"
	"testing"

	"stead/substitution/inspection/note"
)

// BenchmarkRead reads the tuning notes one after another: notes a second.
func BenchmarkRead(b *testing.B) {
	list := examples(b, "tuning.txt")
	note.Read("", nil)
	for i := 0; b.Loop(); i++ {
		e := list[i%len(list)]
		note.Read(e.text, e.record)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "notes/s")
}

// BenchmarkLong reads notes of 10,000 and 100,000 words, with and without marks: the time grows as the words do.
func BenchmarkLong(b *testing.B) {
	said := map[string]string{
		"sentences": "Chain at point nine. Rear hub rough, nine quarter-inch a side. Front tyre cut. ",
		"dictated":  "front wheel hub smooth no play tyre fine rear wheel hub has a touch of play ",
		"numbers":   "one two point three four five hundred six seven eight nine ten eleven twelve thirteen fourteen ",
		"unknown":   "lorem ipsum dolor sit amet consectetur adipiscing elit sed do eiusmod tempor ",
	}
	for name, text := range said {
		for _, words := range []int{10_000, 100_000} {
			b.Run(name+map[int]string{10_000: "-10k", 100_000: "-100k"}[words], func(b *testing.B) {
				long := strings.Repeat(text, words/len(strings.Fields(text)))
				for b.Loop() {
					note.Read(long, nil)
				}
			})
		}
	}
}
