package inventory

import (
	"errors"
	"fmt"
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

// CheckGTIN13 checks a GTIN-13 by its check digit: from the left the digits weigh 1, 3, 1, 3, ..., and the last one makes
// the sum a multiple of ten (GS1 General Specifications, section 7.9.1, "Standard check digit calculations for GS1 data
// structures"). A wrong code is a *[GTINError].
func CheckGTIN13(s string) error {
	if len(s) != 13 {
		return &GTINError{GTIN: s}
	}
	sum := 0
	for i, c := range []byte(s) {
		if c < '0' || c > '9' {
			return &GTINError{GTIN: s}
		}
		if i < 12 {
			sum += int(c-'0') * (1 + i%2*2)
		}
	}
	if want := byte('0' + (10-sum%10)%10); s[12] != want {
		return &GTINError{GTIN: s, Digit: want}
	}
	return nil
}

// checkOptionalGTIN accepts a part or an offer without one.
func checkOptionalGTIN(s string) error {
	if s == "" {
		return nil
	}
	return CheckGTIN13(s)
}

var errNoName = errors.New("a name is missing: say what a mechanic would call it")
