package pages_test

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// vast is what somebody sends who chose a film, or a backup, for a list.
const vast = 300 << 20

// deaf sends a form with a vast file, or a vast field, as a browser does: it listens only when all is sent.
func (f sent) deaf(v *visitor, field string) answer {
	v.t.Helper()
	const edge = "edge"
	var head strings.Builder
	for key, values := range f.values {
		for _, value := range values {
			fmt.Fprintf(&head, "--%s\r\nContent-Disposition: form-data; name=%q\r\n\r\n%s\r\n", edge, key, value)
		}
	}
	fmt.Fprintf(&head, "--%s\r\nContent-Disposition: form-data; name=%s\r\n\r\n", edge, field)
	tail := "\r\n--" + edge + "--\r\n"
	line, err := net.Dial("tcp", strings.TrimPrefix(v.shop.web.URL, "http://"))
	require.NoError(v.t, err)
	defer line.Close()
	r, err := http.NewRequest(http.MethodPost, v.shop.web.URL+f.path, io.MultiReader(strings.NewReader(head.String()), io.LimitReader(nothing{}, vast), strings.NewReader(tail)))
	require.NoError(v.t, err)
	r.ContentLength = int64(head.Len() + vast + len(tail))
	r.Header.Set("Content-Type", "multipart/form-data; boundary="+edge)
	for _, c := range v.http.Jar.Cookies(r.URL) {
		r.AddCookie(c)
	}
	require.NoError(v.t, r.Write(line), "all of it can be sent")
	out, err := http.ReadResponse(bufio.NewReader(line), r)
	require.NoError(v.t, err)
	return v.read(out)
}

// nothing is bytes of nothing, without end.
type nothing struct{}

func (nothing) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

// Whoever sends what is much too large is told so, and the line is not cut before they can read it.
func TestFarTooLarge(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for _, c := range []struct {
		name, page, act, field string
		who                    *visitor
		status                 int
		words                  string
	}{
		{"a list", "/lists/harbour", "send", `"list"; filename="vast"`, v, 413, "The file is larger than 16 MB: load it at the terminal"},
		{"a photo", "/parts/1/photos", "take", `"photo"; filename="vast"`, v, 413, "The photo is larger than 20 MB: set the camera to a smaller size and take it again"},
		{"where no file goes", "/parts/1", "sell", `"note"; filename="vast"`, v, 413, "What was sent is larger than 1 MB: send less of it"},
		{"a field beside a file", "/lists/harbour", "send", `"progress"`, v, 413, "The file is larger than 16 MB"},
		{"what is no form", "/lists/harbour", "send", `"list"; filename="vast` + "\r\n\x00:", v, 400, "What was sent cannot be read"},
		{"whose session has ended", "/lists/harbour", "send", `"list"; filename="vast"`, s.stranger(), 401, "so the file that you sent is not kept"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := v.get(c.page).form(c.act).deaf(c.who, c.field)
			require.Equal(t, c.status, out.status, out.text)
			require.Contains(t, out.text, c.words)
		})
	}
}

// In a browser the sentence is seen: before anything is sent where the script runs, and after it where none does.
func TestFarTooLargeInABrowser(t *testing.T) {
	s := open(t)
	file := filepath.Join(t.TempDir(), "vast.csv")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	require.NoError(t, os.Truncate(file, vast))
	b := s.tab(800)
	b.comeIn(mechanicName)
	choose := func() {
		b.do(chromedp.SetUploadFiles(chromedp.JSPath(`document.querySelector('input[type=file]')`), []string{file}))
	}
	b.open("/lists/harbour")
	choose()
	require.Equal(t, "the file is larger than 16 MB: load it at the terminal", ask[string](b, `document.querySelector('input[type=file]').validationMessage`))
	b.tap("Look at it")
	require.Equal(t, "/lists/harbour", b.at())
	require.False(t, ask[bool](b, `!!document.querySelector('form[data-sent]')`), "nothing is sent")

	b.noScript(true)
	b.open("/lists/harbour")
	choose()
	b.tap("Look at it")
	b.until("The file is larger than 16 MB: load it at the terminal")
}
