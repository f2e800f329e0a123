package main

import (
	"fmt"
	"os"
	"sync"
	"time"

	"golang.org/x/term"

	"stead/cmd/stead/internal/terminal"
)

// meter is a line on the terminal that says how far a long piece of work is and what is left of it: it is written over,
// and gone at the end. Where standard error is no terminal it is nil and says nothing.
type meter struct {
	what  string
	begun time.Time
}

func newMeter(what string) *meter {
	if !term.IsTerminal(int(os.Stderr.Fd())) {
		return nil
	}
	return &meter{terminal.Visible(what), time.Now()}
}

const anew = "\r\x1b[K" // of the same line

func (m *meter) say(words string) { fmt.Fprintf(os.Stderr, "%s%s: %s", anew, m.what, words) }

// lines takes how many lines are read of about how many; nil for a nil meter, of which nobody asks.
func (m *meter) lines() func(read, about int) {
	if m == nil {
		return nil
	}
	return func(read, about int) {
		words := fmt.Sprintf("%d lines read", read)
		if about > read {
			words = fmt.Sprintf("%d of about %d lines read", read, about)
		}
		m.say(words + leftWords(int64(read), int64(about), time.Since(m.begun)))
	}
}

// bytes takes how much is done of all.
func (m *meter) bytes() func(done, all int64) {
	if m == nil {
		return nil
	}
	const mega = 1e6
	return func(done, all int64) {
		m.say(fmt.Sprintf("%.1f of %.1f MB", float64(done)/mega, float64(all)/mega) + leftWords(done, all, time.Since(m.begun)))
	}
}

// upTo counts the seconds of something that is given up after the most, until the function that it returns is called.
func (m *meter) upTo(most time.Duration) (stop func()) {
	if m == nil {
		return func() {}
	}
	quit, gone := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(gone)
		tick := time.NewTicker(time.Second)
		defer tick.Stop()
		for {
			select {
			case <-quit:
				return
			case <-tick.C:
				m.say(fmt.Sprintf("%.0f s, at most %.0f: the best so far is taken then", time.Since(m.begun).Seconds(), most.Seconds()))
			}
		}
	}()
	return sync.OnceFunc(func() { close(quit); <-gone; m.end() })
}

func (m *meter) end() {
	if m != nil {
		fmt.Fprint(os.Stderr, anew)
	}
}

// leftWords is about how long the rest takes, going by what is done; nothing where that says little yet.
func leftWords(done, all int64, gone time.Duration) string {
	if done <= 0 || all <= done || gone < 2*time.Second {
		return ""
	}
	left := time.Duration(float64(gone) * float64(all-done) / float64(done))
	if left < time.Minute {
		return fmt.Sprintf(", about %d s left", int(left.Seconds())+1)
	}
	return fmt.Sprintf(", about %d min left", int(left.Minutes())+1)
}
