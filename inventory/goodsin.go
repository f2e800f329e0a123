package inventory

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/substitution"
)

// Outcome says what is to be said of pieces that came.
type Outcome string

const (
	Good    Outcome = "good"    // as ordered: to the bin, and to the jobs that wait for it
	Over    Outcome = "over"    // good, more than ordered, and kept: to the bin
	Wrong   Outcome = "wrong"   // another part: goes back, and the right one stays awaited
	Damaged Outcome = "damaged" // goes back, and a whole one stays awaited
)

// Arrival is pieces of one order line that came in a delivery. What is short needs no arrival: it stays awaited.
type Arrival struct {
	LineID  int64   `json:"line"`
	Outcome Outcome `json:"outcome"`
	Pieces  int     `json:"pieces"`
	Note    string  `json:"note,omitempty"`
}

// Into says into which bins what is kept of a delivery goes: a line's own, else the one of all, else where each part
// belongs.
type Into struct {
	Bin   string           // of all
	Lines map[int64]string // of single lines
}

// Receipt is what became of a delivery.
type Receipt struct {
	ID         int64       `json:"id"`
	OrderID    int64       `json:"order"`
	OrderState OrderState  `json:"order_state"`
	Reference  string      `json:"reference"` // the delivery note's number
	Arrived    []Arrival   `json:"arrived"`
	Got        []Got       `json:"got"`     // what each job got
	Awaited    []Awaited   `json:"awaited"` // what the order still lacks
	Measure    []ToMeasure `json:"measure"` // substitutes, to be measured before they are fitted
}

// Got is pieces now reserved for a job that waited for them.
type Got struct {
	JobID      int64              `json:"job"`
	Place      substitution.Place `json:"place"`
	PartID     int64              `json:"part_id"`
	Pieces     int                `json:"pieces"`
	Substitute bool               `json:"substitute"`
}

// Awaited is what is still to come on a line, and which jobs wait for how much of it.
type Awaited struct {
	LineID int64    `json:"line"`
	PartID int64    `json:"part_id"`
	Part   string   `json:"name"`
	Pieces int      `json:"pieces"`
	Jobs   []Holder `json:"jobs"`
}

// ToMeasure is a part that stands in for another, with the dimensions on which its fit rests.
type ToMeasure struct {
	JobID      int64              `json:"job"`
	Place      substitution.Place `json:"place"`
	PartID     int64              `json:"part_id"`
	Part       string             `json:"name"`
	Dimensions []DimensionToCheck `json:"dimensions"`
}

// DimensionToCheck is what a dimension should be, and how to find out.
type DimensionToCheck struct {
	Name    string `json:"name"`
	Means   string `json:"means"`
	Value   string `json:"value"`
	Measure string `json:"measure"`
}

// ReceiveOrder books a delivery in. Good pieces go to the bin and, the first due first, to the jobs that the line serves,
// for which they are then reserved. What is wrong or damaged is kept in the books of the order only. More good pieces
// than are awaited are an *[OverReceivedError] unless allowOver: then the shelf keeps them. A part that belongs nowhere and for which no bin
// is named is a *[NoBinError].
func ReceiveOrder(ctx context.Context, tx pgx.Tx, request string, orderID int64, reference string, into Into, at time.Time, arrivals []Arrival, allowOver bool) (Receipt, error) {
	o, err := lockOrder(ctx, tx, orderID)
	if err != nil {
		return Receipt{}, err
	}
	if arrivals, err = sortOver(o, arrivals); err != nil {
		return Receipt{}, err
	}
	if err := refuseOver(ctx, tx, o, arrivals, allowOver); err != nil {
		return Receipt{}, err
	}
	bins, err := binsFor(ctx, tx, o, arrivals, into)
	if err != nil {
		return Receipt{}, err
	}
	var lines, parts []int64
	for _, a := range arrivals {
		line, _ := o.line(a.LineID)
		lines, parts = append(lines, line.ID), append(parts, line.PartID)
	}
	if err := lockJobsOf(ctx, tx, parts, `WHERE order_line_id = ANY($1) AND state = 'ordered'`, lines); err != nil {
		return Receipt{}, err
	}

	r := Receipt{OrderID: orderID, Reference: reference, Arrived: arrivals, Got: []Got{}, Awaited: []Awaited{}, Measure: []ToMeasure{}}
	err = tx.QueryRow(ctx, `INSERT INTO receipt (order_id, at, reference) VALUES ($1, $2, $3) RETURNING id`, orderID, at, reference).Scan(&r.ID)
	if err != nil {
		return Receipt{}, fmt.Errorf("book a delivery of order %d: %w", orderID, err)
	}
	for _, a := range arrivals {
		line, _ := o.line(a.LineID)
		got, err := bookArrival(ctx, tx, request, r.ID, line, bins[line.ID], a)
		if err != nil {
			return Receipt{}, fmt.Errorf("book a delivery of order %d: %w", orderID, err)
		}
		r.Got = append(r.Got, got...)
	}
	if o, err = settle(ctx, tx, orderID); err != nil {
		return Receipt{}, err
	}
	r.OrderState = o.State
	return r, r.complete(ctx, tx, o)
}

// ReceiveAll books in everything that an order still awaits, and what came beside it. What is awaited is read once the order
// is locked: of two who book the same delivery in at once the second is told that nothing is still to come.
func ReceiveAll(ctx context.Context, tx pgx.Tx, request string, orderID int64, reference string, into Into, at time.Time, beside []Arrival, allowOver bool) (Receipt, error) {
	o, err := lockOrder(ctx, tx, orderID)
	if err != nil {
		return Receipt{}, err
	}
	var arrivals []Arrival
	for _, l := range o.Lines {
		if l.Awaited() > 0 {
			arrivals = append(arrivals, Arrival{LineID: l.ID, Outcome: Good, Pieces: l.Awaited()})
		}
	}
	if len(arrivals) == 0 {
		return Receipt{}, fmt.Errorf("nothing of order %d is still to come", orderID)
	}
	return ReceiveOrder(ctx, tx, request, orderID, reference, into, at, append(arrivals, beside...), allowOver)
}

// binsFor are the bins into which what is kept goes, by line.
func binsFor(ctx context.Context, db DB, o Order, arrivals []Arrival, into Into) (map[int64]int64, error) {
	for id := range into.Lines {
		if _, ok := o.line(id); !ok {
			return nil, unknownLine(id, o.ID)
		}
	}
	bins := map[int64]int64{}
	for _, a := range arrivals {
		line, _ := o.line(a.LineID)
		if _, known := bins[line.ID]; known || !a.kept() {
			continue
		}
		name := cmp.Or(into.Lines[line.ID], into.Bin)
		if name == "" {
			var err error
			if name, err = homeOf(ctx, db, line.PartID); err != nil {
				return nil, err
			}
		}
		id, err := binNamed(ctx, db, name)
		if err != nil {
			return nil, err
		}
		bins[line.ID] = id
	}
	return bins, nil
}

// kept reports whether the pieces go to the shelf.
func (a Arrival) kept() bool { return a.Outcome == Good || a.Outcome == Over }

func (o Order) line(id int64) (OrderLine, bool) {
	i := slices.IndexFunc(o.Lines, func(l OrderLine) bool { return l.ID == id })
	if i < 0 {
		return OrderLine{}, false
	}
	return o.Lines[i], true
}

// sortOver checks the arrivals and calls over what is good beyond what a line awaits.
func sortOver(o Order, arrivals []Arrival) ([]Arrival, error) {
	if len(arrivals) == 0 {
		return nil, errors.New("a delivery without a line cannot be booked: say what came")
	}
	good := map[int64]int{}
	var sorted []Arrival
	for _, a := range arrivals {
		line, ok := o.line(a.LineID)
		if !ok {
			return nil, unknownLine(a.LineID, o.ID)
		}
		if err := CheckPieces(a.Pieces); err != nil {
			return nil, fmt.Errorf("line %d of order %d: %w", a.LineID, o.ID, err)
		}
		switch a.Outcome {
		case Over, Wrong, Damaged:
			sorted = append(sorted, a)
			continue
		case Good:
		default:
			return nil, fmt.Errorf("line %d of order %d: pieces come good, over, wrong or damaged, not %q", a.LineID, o.ID, a.Outcome)
		}
		right := min(a.Pieces, line.Awaited()-good[line.ID])
		good[line.ID] += right
		if beyond := a.Pieces - right; beyond > 0 {
			over := a
			over.Outcome, over.Pieces = Over, beyond
			sorted = append(sorted, over)
		}
		if a.Pieces = right; right > 0 {
			sorted = append(sorted, a)
		}
	}
	return sorted, nil
}

// refuseOver is an error for the first line of which more came than it awaits, unless that is allowed.
func refuseOver(ctx context.Context, db DB, o Order, arrivals []Arrival, allowed bool) error {
	if allowed {
		return nil
	}
	for _, l := range o.Lines {
		var came, over int
		for _, a := range arrivals {
			if a.LineID == l.ID && a.kept() {
				came += a.Pieces
			}
			if a.LineID == l.ID && a.Outcome == Over {
				over += a.Pieces
			}
		}
		if over > 0 {
			name, err := nameOf(ctx, db, l.PartID)
			if err != nil {
				return err
			}
			return &OverReceivedError{OrderID: o.ID, Part: name, Came: came, Awaited: l.Awaited()}
		}
	}
	return nil
}

// bookArrival writes a line of the receipt and, of what is kept, the movement; good pieces go on to the line's jobs.
func bookArrival(ctx context.Context, tx pgx.Tx, request string, receiptID int64, line OrderLine, binID int64, a Arrival) ([]Got, error) {
	var id int64
	err := tx.QueryRow(ctx, `
		INSERT INTO receipt_line (receipt_id, order_line_id, outcome, pieces, note) VALUES ($1, $2, $3, $4, $5) RETURNING id`,
		receiptID, line.ID, a.Outcome, a.Pieces, a.Note).Scan(&id)
	if err != nil {
		return nil, err
	}
	if !a.kept() {
		return nil, nil
	}
	err = book(ctx, tx, entry{request: request, partID: line.PartID, binID: binID, pieces: a.Pieces, reason: Received, receiptLineID: &id, note: a.Note})
	if err != nil || a.Outcome == Over {
		return nil, err
	}
	if _, err := tx.Exec(ctx, `UPDATE order_line SET received = received + $2 WHERE id = $1`, line.ID, a.Pieces); err != nil {
		return nil, err
	}
	return allocate(ctx, tx, line.ID, a.Pieces)
}

// allocate gives pieces that have come to the claims of their line, the first due first, and reserves them.
func allocate(ctx context.Context, tx pgx.Tx, lineID int64, pieces int) ([]Got, error) {
	waiting, err := claims(ctx, tx, `WHERE order_line_id = $1 AND state = 'ordered'`, lineID)
	if err != nil {
		return nil, err
	}
	var all []Got
	for _, c := range waiting {
		got := min(c.Pieces, pieces)
		if got == 0 {
			break
		}
		pieces -= got
		id := c.ID
		if got < c.Pieces {
			if id, err = splitClaim(ctx, tx, c.ID, got); err != nil {
				return nil, err
			}
		}
		if _, err := tx.Exec(ctx, `UPDATE claim SET state = 'arrived' WHERE id = $1`, id); err != nil {
			return nil, err
		}
		if err := Reserve(ctx, tx, c.JobID, c.PartID, c.Place, got); err != nil {
			return nil, err
		}
		all = append(all, Got{JobID: c.JobID, Place: c.Place, PartID: c.PartID, Pieces: got, Substitute: c.Substitute})
	}
	return all, nil
}

// complete adds to a receipt what its order still awaits and what is to be measured.
func (r *Receipt) complete(ctx context.Context, db DB, o Order) error {
	var partIDs []int64
	for _, l := range o.Lines {
		partIDs = append(partIDs, l.PartID)
	}
	parts, err := Parts(ctx, db, partIDs)
	if err != nil {
		return err
	}
	if r.Awaited, err = stillAwaited(ctx, db, o, parts); err != nil {
		return err
	}
	for _, g := range r.Got {
		if g.Substitute {
			r.Measure = append(r.Measure, toMeasure(g.JobID, g.Place, parts[g.PartID]))
		}
	}
	return nil
}

// Expecting is what an order still awaits, with the jobs that wait for it, and what of it is to be measured when it comes.
func Expecting(ctx context.Context, db DB, o Order) (awaited []Awaited, measure []ToMeasure, err error) {
	var partIDs, lineIDs []int64
	for _, l := range o.Lines {
		partIDs, lineIDs = append(partIDs, l.PartID), append(lineIDs, l.ID)
	}
	parts, err := Parts(ctx, db, partIDs)
	if err != nil {
		return nil, nil, err
	}
	if awaited, err = stillAwaited(ctx, db, o, parts); err != nil {
		return nil, nil, err
	}
	waiting, err := claims(ctx, db, `WHERE order_line_id = ANY($1) AND state = 'ordered' AND substitute`, lineIDs)
	for _, c := range waiting {
		measure = append(measure, toMeasure(c.JobID, c.Place, parts[c.PartID]))
	}
	return awaited, measure, err
}

// MeasureForJob is what is to be measured of the parts that stand in for others on a job, whether they are here yet or not.
func MeasureForJob(ctx context.Context, db DB, jobID int64) (measure []ToMeasure, err error) {
	standIns, err := claims(ctx, db, `WHERE job_id = $1 AND state <> 'cancelled' AND substitute`, jobID)
	if err != nil {
		return nil, err
	}
	var ids []int64
	for _, c := range standIns {
		ids = append(ids, c.PartID)
	}
	parts, err := Parts(ctx, db, ids)
	for _, c := range standIns {
		measure = append(measure, toMeasure(c.JobID, c.Place, parts[c.PartID]))
	}
	return measure, err
}

func stillAwaited(ctx context.Context, db DB, o Order, parts map[int64]Part) ([]Awaited, error) {
	out := []Awaited{}
	for _, l := range o.Lines {
		if l.Awaited() == 0 {
			continue
		}
		jobs, err := Collect(ctx, db, pgx.RowToStructByPos[Holder], `
			SELECT job_id, sum(pieces)::int FROM claim
			WHERE order_line_id = $1 AND state = 'ordered'
			GROUP BY job_id ORDER BY min(due_on), job_id`, l.ID)
		if err != nil {
			return nil, fmt.Errorf("read which jobs wait: %w", err)
		}
		out = append(out, Awaited{LineID: l.ID, PartID: l.PartID, Part: parts[l.PartID].Name, Pieces: l.Awaited(), Jobs: jobs})
	}
	return out, nil
}

func toMeasure(jobID int64, place substitution.Place, part Part) ToMeasure {
	return ToMeasure{JobID: jobID, Place: place, PartID: part.ID, Part: part.Name, Dimensions: deciding(part, place)}
}

// deciding are the dimensions on which a part's fit at a place rests, as far as they are known: those that a mating or
// safety rule reads there. What sits nowhere, because another part needed it, is measured in all its own.
func deciding(p Part, place substitution.Place) []DimensionToCheck {
	table, err := substitution.TableOf(p.Family)
	if err != nil {
		return nil
	}
	asked := map[string]bool{}
	for _, rule := range substitution.Instances(place) {
		for _, r := range rule.Reads() {
			if r.Place == place && rule.Rule().Severity.Stops() {
				asked[r.Dimension] = true
			}
		}
	}
	all := len(asked) == 0 || asked[""]
	var out []DimensionToCheck
	for _, d := range table.Dimensions {
		if v, known := p.Get(d.Name); known && (all || asked[d.Name]) {
			out = append(out, DimensionToCheck{Name: d.Name, Means: d.Plain(), Value: d.Show(v), Measure: d.Measure})
		}
	}
	return out
}

// Came is what jobs got of an order, and what of it is to be measured before it is fitted.
func Came(ctx context.Context, db DB, o Order) (got []Got, measure []ToMeasure, err error) {
	var partIDs, lineIDs []int64
	for _, l := range o.Lines {
		partIDs, lineIDs = append(partIDs, l.PartID), append(lineIDs, l.ID)
	}
	parts, err := Parts(ctx, db, partIDs)
	if err != nil {
		return nil, nil, err
	}
	arrived, err := claims(ctx, db, `WHERE order_line_id = ANY($1) AND state = 'arrived'`, lineIDs)
	for _, c := range arrived {
		got = append(got, Got{JobID: c.JobID, Place: c.Place, PartID: c.PartID, Pieces: c.Pieces, Substitute: c.Substitute})
		if c.Substitute {
			measure = append(measure, toMeasure(c.JobID, c.Place, parts[c.PartID]))
		}
	}
	return got, measure, err
}
