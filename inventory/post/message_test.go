package post

import (
	"bytes"
	"context"
	"encoding/base64"
	"io"
	"mime"
	"mime/multipart"
	"mime/quotedprintable"
	"net/mail"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

func TestAddresses(t *testing.T) {
	for _, c := range []struct {
		name  string
		given Address
		is    string // as it is sent to
		wrong string
	}{
		{"plain", Address{"Ines Falkner", " ines@falkner.example "}, "ines@falkner.example", ""},
		{"a domain beyond ASCII, in the letters of RFC 3492", Address{"", "ines@bücher.example"}, "ines@xn--bcher-kva.example", ""}, // the usual example of the standard's users
		{"marks", Address{"", "o'neil+bike@customer.example"}, "o'neil+bike@customer.example", ""},
		{"none", Address{}, "", "needs an address"},
		{"no @", Address{"", "ines"}, "", "one @ and no spaces"},
		{"nothing behind", Address{"", "ines@"}, "", "one @ and no spaces"},
		{"two", Address{"", "a@b.example, c@d.example"}, "", "one @ and no spaces"},
		{"a heading of its own", Address{"", "ines@falkner.example\r\nBcc: all@customer.example"}, "", "one @ and no spaces"},
		{"a name with a heading of its own", Address{"Ines\r\nBcc: all@customer.example", "ines@falkner.example"}, "", "correct the name"},
		{"letters that servers do not take", Address{"", "inès@falkner.example"}, "", "ask for another address"},
		{"a bracket", Address{"", "<ines@falkner.example>"}, "", "is no e-mail address"},
		{"a domain that is none", Address{"", "ines@fal_kner..example"}, "", "no name of a place on the net"},
		{"too long", Address{"", strings.Repeat("a", 250) + "@customer.example"}, "", "is no e-mail address"},
	} {
		a, err := c.given.check()
		if c.wrong != "" {
			require.ErrorContains(t, err, c.wrong, c.name)
			continue
		}
		require.NoError(t, err, c.name)
		require.Equal(t, c.is, a.Mail, c.name)
	}
}

// A message arrives with its words, its names and its files as they were: read by Go's readers of RFC 2047 and MIME, of what
// Debian's server has taken.
func messageIsReadAgain(t *testing.T, server *mailServer, o *office) {
	d := Draft{What: "quote 1", From: "Tannery Yard & Söhne", To: Address{"Zoë Łukasiewicz, “the fast one”", "zoe@customer.example"},
		Subject: "Your bike – £95.58, Łódź, " + strings.Repeat("and more ", 12),
		Text:    "Grüße.\n.\n.a dot begins this line\nFrom here on.\n" + strings.Repeat("long ", 300), HTML: "<p>Grüße &amp; more</p>",
		Files: []File{{"quote-1.pdf", "application/pdf", bytes.Repeat([]byte("%PDF\x00\r\n.\r\n\xff"), 999)}, {"order 5.csv", "text/csv", []byte("\ufeffcode,price\r\n")}}}
	o.change(func(ctx context.Context, tx pgx.Tx) error { _, err := Queue(ctx, tx, d, o.now); return err })
	var kept []byte
	require.NoError(t, o.DB.QueryRow(t.Context(), `SELECT content FROM message WHERE content IS NOT NULL`).Scan(&kept))
	require.NotContains(t, string(kept), "ü", "all of it is ASCII")
	for line := range strings.SplitSeq(string(kept), "\r\n") {
		require.LessOrEqual(t, len(line), 998, "RFC 5322, 2.1.1")
	}
	_, err := o.Round(t.Context())
	require.NoError(t, err)
	require.Len(t, server.taken("zoe"), 1)
	m := server.taken("zoe")[0]

	var words mime.WordDecoder
	subject, err := words.DecodeHeader(m.Header.Get("Subject"))
	require.NoError(t, err)
	require.Equal(t, strings.TrimSpace(d.Subject), strings.TrimSpace(subject))
	to, err := m.Header.AddressList("To")
	require.NoError(t, err)
	require.Equal(t, []*mail.Address{{Name: d.To.Name, Address: d.To.Mail}}, to)
	from, err := m.Header.AddressList("From")
	require.NoError(t, err)
	require.Equal(t, []*mail.Address{{Name: d.From, Address: "bench@tannery.example"}}, from)
	date, err := m.Header.Date()
	require.NoError(t, err)
	require.True(t, date.Equal(morning))

	parts := leaves(t, m.Header.Get("Content-Type"), m.Header.Get("Content-Transfer-Encoding"), m.Body)
	require.Len(t, parts, 4)
	require.Equal(t, strings.TrimSpace(d.Text), strings.TrimSpace(strings.ReplaceAll(parts[0].content, "\r\n", "\n")))
	require.Equal(t, d.HTML, strings.TrimSpace(parts[1].content))
	for i, f := range d.Files {
		require.Equal(t, f.Name, parts[2+i].name)
		require.Equal(t, string(f.Content), parts[2+i].content)
	}
}

type leaf struct{ name, content string }

// leaves are the parts of a message that are not made of parts.
func leaves(t *testing.T, kind, encoding string, body io.Reader) []leaf {
	t.Helper()
	media, params, err := mime.ParseMediaType(kind)
	require.NoError(t, err)
	if strings.HasPrefix(media, "multipart/") {
		var all []leaf
		for r := multipart.NewReader(body, params["boundary"]); ; {
			p, err := r.NextRawPart()
			if err == io.EOF {
				return all
			}
			require.NoError(t, err)
			found := leaves(t, p.Header.Get("Content-Type"), p.Header.Get("Content-Transfer-Encoding"), p)
			if len(found) == 1 {
				found[0].name = p.FileName()
			}
			all = append(all, found...)
		}
	}
	switch strings.ToLower(encoding) {
	case "quoted-printable":
		body = quotedprintable.NewReader(body)
	case "base64":
		body = base64.NewDecoder(base64.StdEncoding, body)
	}
	content, err := io.ReadAll(body)
	require.NoError(t, err)
	return []leaf{{content: string(content)}}
}

func TestBadDrafts(t *testing.T) {
	good := Draft{What: "bill 1", From: "Tannery Yard", To: Address{"Ines", "ines@falkner.example"}, Subject: "Bill 1", Text: "Hello."}
	for _, c := range []struct {
		name  string
		spoil func(*Draft)
		wrong string
	}{
		{"a heading in the subject", func(d *Draft) { d.Subject = "Bill\r\nBcc: all@customer.example" }, "the subject"},
		{"a heading in the shop's name", func(d *Draft) { d.From = "Shop\nBcc: all@customer.example" }, "the sender: the name"},
		{"too large", func(d *Draft) { d.Files = []File{{"big.pdf", "application/pdf", make([]byte, 16<<20)}} }, "most servers take no more"},
	} {
		d := good
		c.spoil(&d)
		from := Address{Name: d.From, Mail: "bench@tannery.example"}
		_, err := d.write(from, d.To, "x@tannery.example", morning)
		require.ErrorContains(t, err, c.wrong, c.name)
	}
}
