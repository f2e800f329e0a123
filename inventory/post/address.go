package post

import (
	"errors"
	"fmt"
	"net/mail"
	"strings"
	"unicode"

	"golang.org/x/net/idna"
)

// Address is somebody who gets mail.
type Address struct {
	Name string // as they are called; may be empty
	Mail string // "ines@falkner.example"
}

// String is the address with its name, for people to read.
func (a Address) String() string {
	if a.Name == "" {
		return a.Mail
	}
	return a.Name + " <" + a.Mail + ">"
}

const longestAddress = 254 // RFC 5321, 4.5.3.1.3, without its brackets

// check returns the address as it is written in a heading: what stands behind the @ in the letters of the net. A line break,
// with which more headings would begin, is refused in either.
func (a Address) check() (Address, error) {
	if strings.ContainsFunc(a.Name, unicode.IsControl) {
		return a, fmt.Errorf("the name %q has a line break or another character that cannot be seen in it: correct the name", a.Name)
	}
	a.Name, a.Mail = strings.TrimSpace(a.Name), strings.TrimSpace(a.Mail)
	if a.Mail == "" {
		return a, errors.New("an e-mail needs an address to go to")
	}
	local, domain, found := cutLast(a.Mail, "@")
	switch {
	case !found || local == "" || domain == "" || strings.ContainsFunc(a.Mail, func(r rune) bool { return unicode.IsControl(r) || unicode.IsSpace(r) }):
		return a, fmt.Errorf("%q is no e-mail address: it has one @ and no spaces", a.Mail)
	case strings.ContainsFunc(local, func(r rune) bool { return r > unicode.MaxASCII }):
		return a, fmt.Errorf("%q cannot be sent to: before the @ most servers take only the letters a to z, figures and marks; ask for another address", a.Mail)
	}
	ascii, err := idna.Lookup.ToASCII(domain)
	if err != nil {
		return a, fmt.Errorf("%q is no e-mail address: %q is no name of a place on the net", a.Mail, domain)
	}
	a.Mail = local + "@" + ascii
	parsed, err := mail.ParseAddress(a.Mail)
	if err != nil || parsed.Address != a.Mail || len(a.Mail) > longestAddress {
		return a, fmt.Errorf("%q is no e-mail address: read it again", a.Mail)
	}
	return a, nil
}

func cutLast(text, sep string) (before, after string, found bool) {
	at := strings.LastIndex(text, sep)
	if at < 0 {
		return text, "", false
	}
	return text[:at], text[at+len(sep):], true
}
