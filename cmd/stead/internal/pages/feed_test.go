package pages_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A calendar program follows its link without signing in, until it is taken back; the days name no customer.
func TestCalendar(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/calendar").form("make")
	require.Contains(t, form.send(v, "whose", " ").text, "say whose calendar it is for")
	made := form.send(v, "whose", "the bench tablet")
	address := valueAfter(made.source, `id="address" readonly value="`)
	path := strings.TrimPrefix(address, "http://stead.test")
	require.Regexp(t, `^/calendar/[A-Z2-7]{26}$`, path)
	require.Contains(t, form.send(v, "whose", "the bench tablet").source, address, "sent twice it is one link")
	require.Equal(t, 1, count(t, s, `SELECT count(*) FROM feed_link`))
	require.Zero(t, count(t, s, `SELECT count(*) FROM feed_link WHERE encode(hash, 'escape') LIKE '%`+path[len("/calendar/"):]+`%'`))

	days := s.stranger().get(path)
	require.Equal(t, 200, days.status)
	text := strings.ReplaceAll(days.source, "\r\n ", "")
	promised := count(t, s, `SELECT count(*) FROM job WHERE state = 'approved'`)
	require.NotZero(t, promised)
	require.Equal(t, promised, strings.Count(text, "BEGIN:VEVENT"))
	require.Contains(t, text, "URL:http://stead.test/jobs/106\r\n")
	rows, err := s.db.Query(t.Context(), `SELECT name FROM customer`)
	require.NoError(t, err)
	for rows.Next() {
		var name string
		require.NoError(t, rows.Scan(&name))
		require.NotContains(t, text, name)
	}
	require.Equal(t, text, strings.ReplaceAll(s.stranger().get(path).source, "\r\n ", ""), "the same days are the same text")

	require.Contains(t, made.form("revoke", "1").send(v).text, "taken back on")
	require.Equal(t, 410, s.stranger().get(path).status)
	require.Equal(t, 404, s.stranger().get("/calendar/AAAAAAAAAAAAAAAAAAAAAAAAAA").status)
}

// valueAfter is what stands behind some text in a page's source, to the next quotation mark.
func valueAfter(source, after string) string {
	_, rest, _ := strings.Cut(source, after)
	value, _, _ := strings.Cut(rest, `"`)
	return value
}
