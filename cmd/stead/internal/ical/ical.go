// Package ical writes days as an iCalendar that other programs show (RFC 5545): whole days with words, and nothing else.
package ical

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"stead/inventory/calendar"
)

// Calendar is what is written.
type Calendar struct {
	Name   string
	Events []Event
}

// Event is a day with what it is for. The same thing keeps its UID when its day changes.
type Event struct {
	UID         string
	Stamp       time.Time // when it was last changed
	Day         calendar.Day
	Summary     string
	Description string
	URL         string // empty: none
}

// every is how often a program that shows it may ask again (RFC 7986, 5.7).
const every = "PT1H"

// Write writes the calendar.
func Write(out io.Writer, c Calendar) error {
	w := &writer{}
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	w.line("PRODID", "-//Stead//promised days//EN")
	w.line("CALSCALE", "GREGORIAN")
	w.line("METHOD", "PUBLISH")
	w.line("NAME", text(c.Name))
	w.line("X-WR-CALNAME", text(c.Name)) // as NAME was written before RFC 7986
	w.line("REFRESH-INTERVAL;VALUE=DURATION", every)
	for _, e := range c.Events {
		w.line("BEGIN", "VEVENT")
		w.line("UID", text(e.UID))
		w.line("DTSTAMP", e.Stamp.UTC().Format("20060102T150405Z"))
		w.line("DTSTART;VALUE=DATE", day(e.Day))
		w.line("DTEND;VALUE=DATE", day(e.Day+1)) // the first day after it
		w.line("SUMMARY", text(e.Summary))
		if e.Description != "" {
			w.line("DESCRIPTION", text(e.Description))
		}
		if e.URL != "" {
			w.line("URL", e.URL)
		}
		w.line("TRANSP", "TRANSPARENT") // nobody is busy for it
		w.line("END", "VEVENT")
	}
	w.line("END", "VCALENDAR")
	if _, err := io.WriteString(out, w.String()); err != nil {
		return fmt.Errorf("write the calendar: %w", err)
	}
	return nil
}

func day(d calendar.Day) string { return d.Time().Format("20060102") }

// text is a text as it stands in a calendar (RFC 5545, 3.3.11). What no text can hold is left out.
func text(words string) string {
	words = strings.ReplaceAll(strings.ToValidUTF8(words, "�"), "\r\n", "\n")
	var out strings.Builder
	for _, r := range words {
		switch {
		case r == '\\' || r == ';' || r == ',':
			out.WriteRune('\\')
			out.WriteRune(r)
		case r == '\n':
			out.WriteString(`\n`)
		case r == '\t' || r >= ' ' && r != 0x7f:
			out.WriteRune(r)
		}
	}
	return out.String()
}

type writer struct{ strings.Builder }

// longest is how many octets a line may have, without its break (RFC 5545, 3.1).
const longest = 75

// line writes a content line, folded: what goes on begins with a space. No letter is cut in two.
func (w *writer) line(name, value string) {
	rest, room := name+":"+value, longest
	for len(rest) > room {
		cut := room
		for !utf8.RuneStart(rest[cut]) {
			cut--
		}
		w.WriteString(rest[:cut] + "\r\n ")
		rest, room = rest[cut:], longest-1
	}
	w.WriteString(rest + "\r\n")
}
