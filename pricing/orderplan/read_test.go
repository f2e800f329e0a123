package orderplan

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

const documented = `{
	"lines": [{"id": "chain", "need": 3, "max": 5, "due_day": 4}, {"id": "cable", "need": 0, "max": 10}],
	"suppliers": [{"id": "north", "carriage": 495, "carriage_paid_at": 5000, "minimum_order": 1000}, {"id": "south", "carriage": 350}],
	"offers": [
		{"line": "chain", "supplier": "north", "pack": 1, "arrival_day": 2, "discount": "all-units", "breaks": [{"min": 1, "unit_price": 1650}, {"min": 4, "unit_price": 1500}]},
		{"line": "chain", "supplier": "south", "pack": 1, "arrival_day": 5, "discount": "incremental", "breaks": [{"min": 1, "unit_price": 900}]},
		{"line": "cable", "supplier": "north", "pack": 10, "discount": "all-units", "breaks": [{"min": 10, "unit_price": 20}]}
	]}`

func TestDocumentedJSON(t *testing.T) {
	p, err := ReadProblem(strings.NewReader(documented))
	require.NoError(t, err)
	require.Len(t, p.Offers, 3)
	again, err := json.Marshal(p)
	require.NoError(t, err)
	require.JSONEq(t, documented, string(again))

	// South's chain comes a day late. Three chains at 16.50 pay 4.95 carriage;
	// ten cables at 2.00 reach the carriage-paid level.
	plan := solve(t, p)
	text, err := json.Marshal(plan)
	require.NoError(t, err)
	require.JSONEq(t, `{"total": 5150, "lower_bound": 5150, "proven": true,
		"suppliers": [{"id": "north", "goods": 5150, "carriage": 0}],
		"lines": [{"id": "chain", "supplier": "north", "units": 3, "cost": 4950}, {"id": "cable", "supplier": "north", "units": 10, "cost": 200}]}`, string(text))
}

func TestReadProblemRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		old, new string
		kind     error
		names    []string
	}{
		"unknown key of a line":     {`"max": 5`, `"max": 5, "maximum": 5`, ErrUnknownKey, []string{`"maximum"`}},
		"unknown key of a supplier": {`"carriage_paid_at"`, `"carriage_paid"`, ErrUnknownKey, []string{`"carriage_paid"`}},
		"unknown key at the top":    {`"lines"`, `"rows"`, ErrUnknownKey, []string{`"rows"`}},
		"no need":                   {`"need": 3, `, ``, ErrMissingKey, []string{"chain", "need"}},
		"no max":                    {`, "max": 10`, ``, ErrMissingKey, []string{"cable", "max"}},
		"no carriage":               {`, "carriage": 350`, ``, ErrMissingKey, []string{"south", "carriage"}},
		"no pack":                   {`"pack": 10, `, ``, ErrMissingKey, []string{"offer 3", "cable", "north", "pack"}},
		"no discount":               {`"discount": "all-units", "breaks": [{"min": 1`, `"breaks": [{"min": 1`, ErrMissingKey, []string{"offer 1", "discount"}},
		"no unit price":             {`, "unit_price": 20`, ``, ErrMissingKey, []string{"offer 3", "unit_price"}},
		"a price with pennies":      {`1650`, `16.50`, ErrJSON, []string{"unit_price"}},
		"a number too large":        {`1650`, `99999999999999999999`, ErrJSON, []string{"unit_price"}},
		"text after the end":        {`]}`, `]} x`, ErrJSON, nil},
		"an offer of no line":       {`"line": "cable"`, `"line": "bell"`, ErrUnknownID, []string{"offer 3", "bell"}},
		"an offer of no supplier":   {`"supplier": "south"`, `"supplier": "west"`, ErrUnknownID, []string{"offer 2", "west"}},
		"an unknown discount":       {`"incremental"`, `"some"`, ErrDiscount, []string{"offer 2", "some"}},
		"breaks out of order":       {`"min": 4`, `"min": 1`, ErrBreakOrder, []string{"offer 1", "chain", "north", "break 2"}},
		"a negative price":          {`900`, `-900`, ErrNegative, []string{"offer 2"}},
		"a pack of nothing":         {`"pack": 10`, `"pack": 0`, ErrPack, []string{"offer 3"}},
		"not JSON":                  {documented, `lines: 3`, ErrJSON, nil},
		"nothing":                   {documented, ``, ErrJSON, nil},
	} {
		t.Run(name, func(t *testing.T) {
			text := documented
			if i := strings.LastIndex(text, c.old); i >= 0 && c.old == `]}` {
				text = text[:i] + c.new
			} else {
				text = strings.Replace(text, c.old, c.new, 1)
			}
			require.NotEqual(t, documented, text)
			_, err := ReadProblem(strings.NewReader(text))
			require.ErrorIs(t, err, c.kind)
			for _, n := range c.names {
				require.ErrorContains(t, err, n)
			}
		})
	}
}

// Whatever the bytes, reading and solving end in a typed error or in a plan that
// checks. Sizes are bounded so that an input takes no longer than its deadline.
func FuzzReadAndSolve(f *testing.F) {
	f.Add([]byte(documented))
	for seed := range uint64(20) {
		r := rand.New(rand.NewPCG(seed, 3))
		text, err := json.Marshal(generateSmall(r.IntN, 1+r.IntN(4), 1+r.IntN(3)))
		require.NoError(f, err)
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := ReadProblem(bytes.NewReader(data))
		var in *InputError
		if err != nil {
			require.ErrorAs(t, err, &in)
			return
		}
		units := 0
		for _, l := range p.Lines {
			if l.Max > 0 {
				units += min(l.Max, 1000)
			}
		}
		if units > 60 || len(p.Offers) > 12 {
			require.NotPanics(t, func() { _ = p.Validate() })
			return
		}
		ctx, cancel := context.WithTimeout(context.Background(), 200*time.Millisecond)
		defer cancel()
		plan, err := Solve(ctx, p)
		if err == nil {
			require.NoError(t, Check(p, plan))
			return
		}
		var no *InfeasibleError
		var late *UnfinishedError
		require.True(t, errors.As(err, &in) || errors.As(err, &no) || errors.As(err, &late), "%v", err)
	})
}
