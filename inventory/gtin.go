package inventory

import (
	"errors"
	"fmt"

	"stead/inventory/barcode"
)

// GTINError says what is wrong with a GTIN-13.
type GTINError struct {
	GTIN  string
	Digit byte // the check digit expected; 0 where the code is not 13 digits at all
}

func (e *GTINError) Error() string {
	if e.Digit == 0 {
		return fmt.Sprintf("GTIN %q is not 13 digits: read it again under the bar code", e.GTIN)
	}
	return fmt.Sprintf("GTIN %s ends in the wrong check digit: after %s comes %c, so one of its digits is misread", e.GTIN, e.GTIN[:12], e.Digit)
}

// CheckGTIN13 checks a GTIN-13 by its check digit ([barcode.CheckDigit]). A wrong code is a *[GTINError].
func CheckGTIN13(s string) error {
	if len(s) != 13 {
		return &GTINError{GTIN: s}
	}
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return &GTINError{GTIN: s}
		}
	}
	if want := barcode.CheckDigit(s[:12]); s[12] != want {
		return &GTINError{GTIN: s, Digit: want}
	}
	return nil
}

// asGTIN13 is a GTIN of 8, 12 or 14 digits as the catalogue keeps it, with thirteen; any other text stays as it is.
func asGTIN13(s string) string {
	if code, err := barcode.Read(s); err == nil && code.GTIN != "" && !code.Box {
		return code.GTIN
	}
	return s
}

// checkOptionalGTIN accepts a part or an offer without one.
func checkOptionalGTIN(s string) error {
	if s == "" {
		return nil
	}
	return CheckGTIN13(s)
}

var errNoName = errors.New("a name is missing: say what a mechanic would call it")
