package pages

import (
	"fmt"

	"stead/pricing/billing"
)

// dating asks by what a paper is dated, where the clock stands before the last one; else it asks nothing.
type dating struct {
	Behind *billing.BehindError
}

func (v *visit) dating() (dating, error) {
	behind, err := billing.Behind(v.ctx, v.db(), v.now)
	return dating{behind}, err
}

// Dated asks which day a paper bears.
func (d dating) Dated(f *Form) Field {
	e := d.Behind
	return f.Choice("dated", "Which day does the paper bear?", "",
		string(billing.AsLast), fmt.Sprintf("%s, as %s %d: the clock is wrong", e.Its.Short(e.Today), e.Series, e.Number),
		string(billing.ByClock), fmt.Sprintf("%s: %s %d bears a wrong day", e.Today.Short(e.Its), e.Series, e.Number),
	).With("The clock stands before the last paper. Put it right if you can, else say which of the two is wrong.")
}

// moment is when a paper is written, and what was chosen of its day.
func (v *visit) moment(t *typed) billing.Moment {
	return billing.Moment{Now: v.now, Dated: billing.Dated(t.oneOf("dated", string(billing.AsLast), string(billing.ByClock)))}
}

// dated adds to the words of a history what was chosen of a paper's day.
func dated(words string, at billing.Moment) string {
	switch at.Dated {
	case billing.AsLast:
		return words + ", dated as the paper before it"
	case billing.ByClock:
		return words + ", dated by the clock"
	}
	return words
}
