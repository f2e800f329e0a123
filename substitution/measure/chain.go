package measure

import (
	"fmt"
	"math"

	"stead/substitution/standard"
)

// ChainWear is a length of chain measured under light tension, from pin to pin or roller to roller the same way.
type ChainWear struct {
	Length  *Reading `json:"length,omitempty"`
	Pitches int      `json:"pitches,omitempty"` // half-links in that length: 24 in a foot
	Speeds  int      `json:"speeds,omitempty"`  // sprockets at the back, 1 for single speed; absent if not said
}

// Identify says how worn the chain is and whether it should go.
func (c ChainWear) Identify() (Result, error) {
	if c.Length == nil || c.Pitches < 1 {
		return Result{}, fmt.Errorf("measure a length of chain and count its half-links: 24 are 304.8 mm when new")
	}
	fresh := float64(c.Pitches) * standard.PitchMM
	if err := check("length of chain", c.Length, 10, 2500); err != nil {
		return Result{}, err
	}
	worn := standard.ChainWearPercent(c.Length.MM, c.Pitches)
	spread := c.Length.ErrorMM / fresh * 100
	if worn < -spread-0.2 {
		return Result{}, fmt.Errorf("%s mm over %d half-links is shorter than a new chain (%s mm): was one counted too many?", mm(c.Length.MM), c.Pitches, mm(fresh))
	}
	if worn > 3+spread {
		return Result{}, fmt.Errorf("%s mm over %d half-links would be %.1f %% worn, which no chain reaches (new: %s mm): was one not counted?", mm(c.Length.MM), c.Pitches, worn, mm(fresh))
	}
	r := Result{Part: "chain wear"}
	r.Verdict = fmt.Sprintf("Worn %.2f %% (± %.2f).", math.Max(0, worn), spread)
	for _, speeds := range c.speeds() {
		limit, ok := standard.ChainWearLimit(speeds)
		if !ok {
			r.Verdict += fmt.Sprintf(" No limit is published for %d speeds.", speeds)
			continue
		}
		r.Matches = append(r.Matches, Match{fmt.Sprintf("%s: replace at %s %%", speedWords(limit.Speeds), mm(limit.Percent)), wearWords(worn, spread, limit.Percent), limit.Reference})
	}
	if len(r.Matches) == 1 {
		r.Verdict += fmt.Sprintf(" %s.", r.Matches[0].Detail)
	}
	if worn > 1+spread {
		r.Verdict += " Over 1 %: inspect the chainrings too."
	}
	if spread > 0.15 {
		r.Next = append(r.Next, Step{fmt.Sprintf("Measure again over %d half-links, or with a sharper tool", 2*c.Pitches), "steel rule", fmt.Sprintf("the error of this measurement is ± %.2f %%, and the limits are a quarter of a per cent apart", spread)})
	}
	r.Next = append(r.Next, Step{"Look whether the chain is a 12-speed road one with larger rollers", "eye, marking", "go/no-go gauges and these limits do not hold for it; its maker gives 0.8 % on an approved gauge"})
	r.ReadsBadly = append(r.ReadsBadly, "Gauges that push rollers apart read high, because they add the rollers' own play; pin to pin is the chain's length.")
	r.Cautions = append(r.Cautions, "A new chain that skips on an old sprocket under load means the sprocket must go too.")
	return r, nil
}

// speeds are the drivetrains to judge by: the one given, or one of each limit.
func (c ChainWear) speeds() []int {
	if c.Speeds != 0 {
		return []int{c.Speeds}
	}
	return []int{11, 8, 1}
}

func wearWords(worn, spread, limit float64) string {
	switch {
	case worn-spread > limit:
		return "Over the limit: replace the chain, and check the sprockets"
	case worn+spread < limit:
		return "Under the limit: the chain can stay"
	}
	return "At the limit, within the error of the measurement: measure over more links before deciding"
}

func speedWords(speeds []int) string {
	if len(speeds) == 1 {
		return "single speed"
	}
	return fmt.Sprintf("%d to %d speeds", speeds[0], speeds[len(speeds)-1])
}

// ChainWidth is what was measured across a chain.
type ChainWidth struct {
	Inner *Reading `json:"inner,omitempty"` // between the inner plates
	Pins  *Reading `json:"pins,omitempty"`  // over the pins, outside
}

// pinSlackMM is how far a chain's pins may lie outside the published range: makers differ by about this.
const pinSlackMM = 0.05

// Identify names the nominal width, and the speeds by the pins.
func (c ChainWidth) Identify() (Result, error) {
	if c.Inner == nil && c.Pins == nil {
		return Result{}, fmt.Errorf("nothing was measured: give the width between the inner plates, or over the pins")
	}
	if err := check("inner width", c.Inner, 1.8, 6); err != nil {
		return Result{}, err
	}
	if err := check("width over the pins", c.Pins, 4.5, 15); err != nil {
		return Result{}, err
	}
	r := Result{Part: "chain width", ReadsBadly: append(tooFine(c.Inner, c.Pins), "A caliper between the plates catches on the rollers' shoulders and reads low; measure at the plates' edge.")}
	var names, speeds []string
	if c.Inner != nil {
		for _, w := range standard.ChainWidths() {
			if c.Inner.allows(w.InnerMM-0.08, w.InnerMM+0.15) {
				r.Matches = append(r.Matches, Match{w.Name, mm(w.InnerMM) + " mm between the plates, " + speedList(w.Speeds), w.Reference})
				names = append(names, w.String())
			} else if math.Abs(w.InnerMM-c.Inner.MM) < 0.9 {
				r.NearMisses = append(r.NearMisses, NearMiss{w.Name, speedList(w.Speeds), fmt.Sprintf("%s mm between the plates", mm(w.InnerMM)), w.Reference})
			}
		}
	}
	if c.Pins != nil {
		for _, p := range standard.PinWidths() {
			if c.Pins.allows(p.MinMM-pinSlackMM, p.MaxMM+pinSlackMM) {
				r.Matches = append(r.Matches, Match{fmt.Sprintf("%d-speed", p.Speed), pinDetail(p), p.Reference})
				speeds = append(speeds, fmt.Sprintf("%d", p.Speed))
			}
		}
	}
	r.Verdict = "No chain in the table is so wide: misread, worn plates, or a chain for something else."
	if len(r.Matches) > 0 {
		r.Verdict = ""
		if len(names) > 0 {
			r.Verdict = fmt.Sprintf("The chain is %s wide inside. ", or(names))
		}
		if len(speeds) > 0 {
			r.Verdict += fmt.Sprintf("Over the pins it is a chain for %s speeds.", or(speeds))
		}
	}
	if c.Pins == nil {
		r.Next = append(r.Next, Step{"Measure over the pins", "caliper", "the outside width tells 9, 10, 11 and 12 speeds apart, which share one inner width"})
	}
	if c.Inner == nil {
		r.Next = append(r.Next, Step{"Measure between the inner plates", "caliper", "1/8 and 3/32 chains can be equally wide outside"})
	}
	return r, nil
}

func pinDetail(p standard.PinWidth) string {
	text := mm(p.MinMM)
	if p.MaxMM != p.MinMM {
		text += " to " + mm(p.MaxMM)
	}
	text += " mm over the pins"
	if p.Note != "" {
		text += "; " + p.Note
	}
	return text
}

func speedList(speeds []int) string {
	names := make([]string, len(speeds))
	for i, s := range speeds {
		names[i] = fmt.Sprintf("%d", s)
	}
	if len(names) == 1 && names[0] == "1" {
		return "single speed"
	}
	return or(names) + " speeds"
}
