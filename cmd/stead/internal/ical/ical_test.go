package ical

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"stead/inventory/calendar"
)

// unfold takes folds away as RFC 5545, 3.1, tells a reader to.
func unfold(text string) string { return strings.ReplaceAll(text, "\r\n ", "") }

func folded(t testing.TB, name, value string) string {
	t.Helper()
	w := &writer{}
	w.line(name, value)
	for line := range strings.SplitSeq(strings.TrimSuffix(w.String(), "\r\n"), "\r\n") {
		require.LessOrEqual(t, len(line), 75)
		if utf8.ValidString(value) {
			require.True(t, utf8.ValidString(line), "no letter is cut in two")
		}
	}
	return w.String()
}

// The examples of RFC 5545: 3.1 for folding, 3.3.11 for what is escaped, 3.8.1.5 for a long description.
func TestExamplesOfTheStandard(t *testing.T) {
	theirs := "DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.\r\n"
	require.Equal(t, "DESCRIPTION:This is a long description that exists on a long line.\r\n", unfold(theirs))
	require.Equal(t, unfold(theirs), unfold(folded(t, "DESCRIPTION", "This is a long description that exists on a long line.")))
	require.Equal(t, `Project XYZ Final Review\nConference Room - 3B\nCome Prepared.`, text("Project XYZ Final Review\nConference Room - 3B\nCome Prepared."))
	require.Equal(t, `Meeting to provide technical review for "Phoenix" design.\nHappy Face Conference Room. Phoenix design team MUST attend this meeting.\nRSVP to team leader.`,
		text("Meeting to provide technical review for \"Phoenix\" design.\r\nHappy Face Conference Room. Phoenix design team MUST attend this meeting.\nRSVP to team leader."))
	require.Equal(t, `a\\b\;c\,d:e"f`, text("a\\b;c,d:e\"f\x00\x07"))
}

func TestFolds(t *testing.T) {
	require.Equal(t, "X:"+strings.Repeat("a", 73)+"\r\n", folded(t, "X", strings.Repeat("a", 73)), "75 octets stand on one line")
	require.Equal(t, "X:"+strings.Repeat("a", 73)+"\r\n a\r\n", folded(t, "X", strings.Repeat("a", 74)))
	require.Equal(t, "X:"+strings.Repeat("a", 72)+"\r\n ü\r\n", folded(t, "X", strings.Repeat("a", 72)+"ü"))
	require.Equal(t, strings.Repeat("自", 200), strings.TrimSuffix(unfold(folded(t, "X", strings.Repeat("自", 200)))[2:], "\r\n"))
}

func FuzzLine(f *testing.F) {
	f.Add("Ines’ blue; touring, bike\\\n")
	f.Add(strings.Repeat("🚲", 50))
	f.Fuzz(func(t *testing.T, words string) {
		escaped := text(words)
		require.NotContains(t, escaped, "\n")
		require.Equal(t, "SUMMARY:"+escaped+"\r\n", unfold(folded(t, "SUMMARY", escaped)))
	})
}

// A reader from outside reads what was written: Debian's python3-icalendar.
func TestReadByAnother(t *testing.T) {
	const python = "/usr/bin/python3"
	if exec.CommandContext(t.Context(), python, "-c", "import icalendar").Run() != nil {
		if os.Getenv("STEAD_CI") != "" {
			t.Fatal("Debian's python3-icalendar is missing")
		}
		t.Skip("Debian's python3-icalendar is missing, so nobody else reads the calendar")
	}
	first, err := calendar.ParseDay("2026-12-31")
	require.NoError(t, err)
	c := Calendar{"Tannery Yard; promised", []Event{
		{"job-101.x@stead", time.Date(2026, 11, 25, 10, 0, 0, 0, time.FixedZone("", 3600)), first, "101: blue touring bike, „Łódź“; " + strings.Repeat("and more ", 20), "a\nb\\c", "https://bench.example/jobs/101"},
		{"job-102.x@stead", time.Date(2026, 11, 26, 10, 0, 0, 0, time.UTC), first + 1, "102: 自転車", "", ""}}}
	var out bytes.Buffer
	require.NoError(t, Write(&out, c))
	cmd := exec.CommandContext(t.Context(), python, "-c", `
import sys, json, icalendar
c = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
assert c['VERSION'] == '2.0' and c['PRODID']
print(json.dumps([[str(e['UID']), str(e['DTSTART'].dt), str(e['DTEND'].dt), str(e['DTSTAMP'].dt), str(e['SUMMARY']), str(e.get('DESCRIPTION', '')), str(e.get('URL', ''))] for e in c.walk('VEVENT')]))
print(len(c.errors) + sum(len(e.errors) for e in c.walk('VEVENT')), file=sys.stderr)`)
	cmd.Stdin = &out
	var errors bytes.Buffer
	cmd.Stderr = &errors
	said, err := cmd.Output()
	require.NoError(t, err, errors.String())
	require.Equal(t, "0\n", errors.String())
	var read [][]string
	require.NoError(t, json.Unmarshal(said, &read))
	require.Equal(t, [][]string{
		{"job-101.x@stead", "2026-12-31", "2027-01-01", "2026-11-25 09:00:00+00:00", c.Events[0].Summary, "a\nb\\c", "https://bench.example/jobs/101"},
		{"job-102.x@stead", "2027-01-01", "2027-01-02", "2026-11-26 10:00:00+00:00", "102: 自転車", "", ""}}, read)
}
