package pricing

import (
	"context"
	"errors"
	"slices"

	"stead/inventory"
	"stead/substitution"
	"stead/substitution/inspection"
)

// Unmended is a place that a job leaves as it was found, though something was to be done there and a rider's safety hangs
// on it.
type Unmended struct {
	Place substitution.Place `json:"place"`
	Stops bool               `json:"stops"` // the bike is not to be ridden until it is mended
}

// stopping are the families of which one that is to be replaced stops safe riding: what brakes, what steers, what the
// rider is held by, and what holds the wheels and the air in them (common practice, no source). Of cables and housings
// only those of a brake are safety parts.
var stopping = map[substitution.Family]bool{
	"rim-pad": true, "disc-pad": true, "disc-rotor": true, "brake-caliper": true, "brake-lever": true, "brake-hose": true,
	"brake-adapter": true, "seal-kit": true, "cable-inner": true, "cable-outer": true,
	"fork": true, "frame": true, "handlebar": true, "stem": true, "headset": true,
	"seatpost": true, "seat-clamp": true, "saddle": true, "crankset": true, "crank-arm": true, "cotter-pin": true, "pedal": true, "bolt": true,
	"rim": true, "spoke": true, "tyre": true, "hub": true, "axle": true, "axle-nut": true, "skewer": true, "thru-axle": true,
}

// counted are the families of which as many are got as may be needed, so that some that are left say nothing.
var counted = map[substitution.Family]bool{"spoke": true, "nipple": true, "loose-balls": true, "ball-cage": true, "bolt": true}

// unmendedAt is a place at which something is left undone, or false where nobody's safety hangs on it.
func unmendedAt(place substitution.Place, action inspection.Action) (Unmended, bool) {
	site, err := substitution.SiteOf(place)
	if err != nil || !site.Safety || action == "" || action == inspection.Keep {
		return Unmended{}, false
	}
	return Unmended{place, action == inspection.Replace && stopping[site.Family]}, true
}

// unmendedOf are those of what was advised and left out that safety hangs on.
func unmendedOf(advised []Advice) (out []Unmended) {
	for _, a := range advised {
		if u, hangs := unmendedAt(a.Place, a.Action); hangs {
			out = append(out, u)
		}
	}
	return out
}

// UnmendedBy are what findings ask for that safety hangs on: what a bike goes home with where nothing is done.
func UnmendedBy(findings []inspection.Finding) (out []Unmended) {
	for _, f := range findings {
		if u, hangs := unmendedAt(f.Place, f.Action); hangs {
			out = append(out, u)
		}
	}
	return out
}

// Unmended are the places that the quote leaves as they were found, though safety hangs on them.
func (q Quote) Unmended() []Unmended { return unmendedOf(q.Advised) }

// Unmended are the places that the job leaves as they were found, though safety hangs on them: while it is in the workshop
// what was left out; once it is given up all that was found; once it is closed also what was found and never agreed, and
// what was agreed and not done. Agreed is nil where nothing was.
func (j Job) Unmended(terms Terms, agreed *Agreement) []Unmended {
	switch {
	case j.State == Cancelled && j.Ending != nil && j.Ending.Mistake:
		return nil
	case j.State == Cancelled:
		return UnmendedBy(j.Findings)
	}
	out := unmendedOf(terms.Advised)
	if j.State != Closed || agreed == nil || j.Ending == nil {
		return out
	}
	for _, u := range UnmendedBy(undone(terms, j.Findings, *agreed, *j.Ending)) {
		if !slices.ContainsFunc(out, func(o Unmended) bool { return o.Place == u.Place }) {
			out = append(out, u)
		}
	}
	return out
}

// undone are the findings with whose work a job ended as they were: what was never agreed, and what was agreed and left out.
func undone(terms Terms, findings []inspection.Finding, agreed Agreement, e Ending) []inspection.Finding {
	return append(agreed.New(terms, findings), notDone(findings, agreed, e)...)
}

// notDone are the findings at whose places what was agreed was left out when the job was closed.
func notDone(findings []inspection.Finding, agreed Agreement, e Ending) []inspection.Finding {
	return slices.DeleteFunc(slices.Clone(findings), func(f inspection.Finding) bool {
		left := 0
		for _, l := range e.LeftOut {
			if l.Place == f.Place {
				left += l.Pieces
			}
		}
		pieces, _ := agreed.at(f.Place)
		site, err := substitution.SiteOf(f.Place)
		return err != nil || left == 0 || left < pieces && counted[site.Family]
	})
}

// UnmendedOn are the places that a job leaves as they were found, though safety hangs on them.
func UnmendedOn(ctx context.Context, db inventory.DB, jobID int64) ([]Unmended, error) {
	job, err := JobByID(ctx, db, jobID)
	if err != nil {
		return nil, err
	}
	terms, err := TermsOf(ctx, db, jobID)
	if err != nil || job.State != Closed {
		return job.Unmended(terms, nil), err
	}
	agreed, err := AgreedOn(ctx, db, jobID)
	if nothing := new(NotAgreedError); errors.As(err, &nothing) {
		return job.Unmended(terms, nil), nil
	}
	return job.Unmended(terms, &agreed), err
}
