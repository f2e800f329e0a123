package pages

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"net/http"
	"path"
	"strings"
	"sync"
)

//go:embed templates/*.html static/*
var files embed.FS

// looks are the templates, the style sheet and the script, as they are in the program.
type looks struct {
	pages   map[string]*template.Template // by the page's name
	version string                        // of what is under /static/: a new program is not shown with an old style
}

// theLooks are read once: nothing in them is one server's.
var theLooks = sync.OnceValues(newLooks)

// newLooks reads all templates: parts.html and the layouts are known to each page.
func newLooks() (looks, error) {
	l := looks{pages: map[string]*template.Template{}}
	base, err := template.New("").Funcs(helpers).ParseFS(files, "templates/parts*.html", "templates/layout-*.html")
	if err != nil {
		return l, err
	}
	all, err := fs.Glob(files, "templates/*.html")
	if err != nil {
		return l, err
	}
	for _, file := range all {
		name := strings.TrimSuffix(path.Base(file), ".html")
		if strings.HasPrefix(name, "parts") || strings.HasPrefix(name, "layout-") {
			continue
		}
		t, err := base.Clone()
		if err == nil {
			err = own(base, file)
		}
		if err == nil {
			_, err = t.ParseFS(files, file)
		}
		if err != nil {
			return l, fmt.Errorf("template %s: %w", name, err)
		}
		l.pages[name] = t
	}
	sum := sha256.New()
	err = fs.WalkDir(files, "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := files.ReadFile(name)
		sum.Write(data)
		return err
	})
	l.version = fmt.Sprintf("%x", sum.Sum(nil)[:6])
	return l, err
}

// own is an error where a page's file gives a template the name of one that every page has, which it would take away from
// its layout; "content" and "thumb" are a page's to give.
func own(base *template.Template, file string) error {
	t, err := template.New("").Funcs(helpers).ParseFS(files, file)
	if err != nil {
		return err
	}
	for _, given := range t.Templates() {
		if name := given.Name(); name != "content" && name != "thumb" && name != "" && base.Lookup(name) != nil {
			return fmt.Errorf("%q is the name of a template that every page has: call it otherwise", name)
		}
	}
	return nil
}

// set writes a page in its layout.
func (l looks) set(out io.Writer, name, layout string, s *screen) error {
	t := l.pages[name]
	if t == nil {
		return fmt.Errorf("there is no template %q", name)
	}
	s.Version = l.version
	var set bytes.Buffer
	if err := t.ExecuteTemplate(&set, "layout-"+layout, s); err != nil {
		return err
	}
	_, err := io.WriteString(out, unfold(tie(set.String())))
	return err
}

// static gives the style sheet and the script.
func (l looks) static(w http.ResponseWriter, r *http.Request) {
	if r.URL.RawQuery == l.version {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	http.FileServerFS(files).ServeHTTP(w, r)
}
