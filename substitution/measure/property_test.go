package measure

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"stead/substitution/standard"
	_ "stead/testdata/drawn" // the same values in every run
)

// read draws a caliper reading that the caliper's error allows for a true length.
func read(t *rapid.T, name string, trueMM float64) *Reading {
	return Caliper(trueMM + rapid.Float64Range(-caliperError, caliperError).Draw(t, name))
}

func mustMatch(t *rapid.T, part identifier, name string) Result {
	r, err := part.Identify()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if !has(r.Matches, name) {
		t.Fatalf("a %s reads as:\n%s", name, r.Words())
	}
	return r
}

// A new part of a standard size, measured with no more than the tool's error, is always among the answers; and the answer
// is never called known when it rests on memory.
func TestNewPartsAreAlwaysFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(standard.BearingSizes()).Draw(t, "bearing")
		width, seal := s.OpenMM, standard.SealOpen
		if rapid.Bool().Draw(t, "closed") {
			width, seal = s.ClosedMM, standard.Seal2RS
		}
		made := 0.0
		if bore, outer, _, _, ok := standard.BearingTolerance(s.BoreMM, s.OuterMM); ok {
			made = rapid.Float64Range(float64(max(bore.LowMicron, outer.LowMicron))/1000, 0).Draw(t, "made")
		}
		r := mustMatch(t, Bearing{Bore: read(t, "bore", s.BoreMM+made), Outer: read(t, "outer", s.OuterMM+made), Width: read(t, "width", width+made), Seal: seal}, s.Name)
		if r.Firm() && !s.Confidence.Firm() {
			t.Fatalf("%s is from memory and yet called known", s.Name)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(standard.Balls()).Draw(t, "ball")
		mustMatch(t, Balls{Diameter: read(t, "diameter", b.MM), Row: read(t, "row", b.MM*10), InRow: 10}, b.String())
	})
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(standard.BoltCircles()).Draw(t, "circle")
		if b.Pattern == standard.PatternAsymmetric {
			return
		}
		mustMatch(t, Chainring{Bolts: b.Bolts, Adjacent: read(t, "adjacent", standard.AdjacentMM(b.BCDMM, b.Bolts))}, b.String())
	})
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(standard.KnownThreads()).Draw(t, "thread")
		hand := RightHand
		if k.Thread.Left {
			hand = LeftHand
		}
		mustMatch(t, Thread{Diameter: read(t, "diameter", k.OutsideMM()), PitchMM: k.Thread.PitchMM, Hand: hand}, k.Thread.String())
	})
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(standard.Seatposts()).Draw(t, "post")
		mustMatch(t, Seatpost{Post: read(t, "post", d.MM)}, d.String())
	})
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(standard.Steerers()).Draw(t, "fork")
		mustMatch(t, Fork{Steerer: read(t, "steerer", s.SteererMM), Crown: read(t, "crown", s.CrownMM)}, s.Name)
	})
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(standard.Shells()).Draw(t, "shell")
		w := rapid.SampledFrom(s.WidthsMM).Draw(t, "width")
		mustMatch(t, Shell{Inside: read(t, "inside", inside(s)), Width: read(t, "across", w), Threaded: s.Drive != nil}, s.Name)
	})
}

// A blunter tool never rules out what a sharper one allows.
func TestABlunterToolNeverExcludesMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, low, high float64) (sharp, blunt *Reading) {
			mm := rapid.Float64Range(low, high).Draw(t, name)
			return Caliper(mm), Ruler(mm)
		}
		bore, bluntBore := at("bore", 5, 30)
		outer, bluntOuter := at("outer", 31, 60)
		sharp, err := Bearing{Bore: bore, Outer: outer}.Identify()
		if err != nil {
			t.Fatal(err)
		}
		blunt, err := Bearing{Bore: bluntBore, Outer: bluntOuter}.Identify()
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range sharp.Matches {
			if !has(blunt.Matches, m.Name) {
				t.Fatalf("the ruler rules out %s", m.Name)
			}
		}
	})
}

// A reading within a caliper's error of two sizes names both.
func TestWithinACalipersErrorBothAreNamed(t *testing.T) {
	for _, kind := range []struct {
		sizes    []standard.Diameter
		identify func(*Reading) (Result, error)
	}{
		{standard.Seatposts(), func(r *Reading) (Result, error) { return Seatpost{Post: r}.Identify() }},
		{standard.HandlebarClamps(), func(r *Reading) (Result, error) { return Handlebar{Clamp: r}.Identify() }},
	} {
		rapid.Check(t, func(t *rapid.T) {
			reading := Reading{MM: rapid.Float64Range(22, 35.2).Draw(t, "mm"), ErrorMM: rapid.SampledFrom([]float64{0.02, 0.05, 0.1, 0.3}).Draw(t, "error"), Tool: "caliper"}
			result, err := kind.identify(&reading)
			require.NoError(t, err)
			named := matchNames(result.Matches)
			for _, size := range kind.sizes {
				if math.Abs(size.MM-reading.MM) <= reading.ErrorMM {
					require.Contains(t, named, size.String())
				}
			}
			require.NotContains(t, result.Verdict, "is made")
			require.False(t, len(named) > 1 && strings.HasPrefix(result.Verdict, "This is"), result.Verdict)
		})
	}
}

// Every subject names each size that its reading may be: within the tool's error of two sizes, both.
func TestEverySubjectNamesBothNeighbours(t *testing.T) {
	type size struct {
		mm   float64
		name string
	}
	var spokes, seats, inners, pins, bodies, pulls, wires []size
	for _, g := range standard.Gauges() {
		spokes = append(spokes, size{g.MM, strconv.Itoa(g.Number) + "g"})
	}
	for _, b := range standard.BeadSeats() {
		seats = append(seats, size{float64(b.MM), strconv.Itoa(b.MM)})
	}
	for _, w := range standard.ChainWidths() {
		inners = append(inners, size{w.InnerMM, w.Name})
	}
	for _, p := range standard.PinWidths() {
		pins = append(pins, size{p.MinMM, strconv.Itoa(p.Speed) + "-speed"}, size{p.MaxMM, strconv.Itoa(p.Speed) + "-speed"})
	}
	for _, b := range standard.FreehubBodies() {
		if b.LengthMM > 0 {
			bodies = append(bodies, size{b.LengthMM, b.Freehub + ", " + b.Name})
		}
	}
	for _, p := range standard.LeverPulls() {
		pulls = append(pulls, size{p.MM, p.Part + " lever"})
	}
	for _, c := range standard.Cables() {
		wires = append(wires, size{c.MM, c.Use + " cable"})
	}
	for subject, kind := range map[string]struct {
		sizes    []size
		identify func(*Reading) (Result, error)
	}{
		"spoke":     {spokes, func(r *Reading) (Result, error) { return Spoke{Elbow: r}.Identify() }},
		"rim":       {seats, func(r *Reading) (Result, error) { return Rim{BeadSeat: r}.Identify() }},
		"inside":    {inners, func(r *Reading) (Result, error) { return ChainWidth{Inner: r}.Identify() }},
		"over pins": {pins, func(r *Reading) (Result, error) { return ChainWidth{Pins: r}.Identify() }},
		"freehub":   {bodies, func(r *Reading) (Result, error) { return Freehub{Length: r}.Identify() }},
		"lever":     {pulls, func(r *Reading) (Result, error) { return Lever{Pull: r}.Identify() }},
		"cable":     {wires, func(r *Reading) (Result, error) { return Cable{Inner: r}.Identify() }},
	} {
		t.Run(subject, func(t *testing.T) {
			require.NotEmpty(t, kind.sizes)
			rapid.Check(t, func(t *rapid.T) {
				near := rapid.SampledFrom(kind.sizes).Draw(t, "size")
				off := rapid.SampledFrom([]float64{0.02, 0.05, 0.1, 0.5}).Draw(t, "error")
				reading := Reading{MM: near.mm + off*rapid.Float64Range(-1, 1).Draw(t, "off"), ErrorMM: off, Tool: "caliper"}
				result, err := kind.identify(&reading)
				if err != nil {
					t.Skip(err.Error()) // beyond what the subject takes
				}
				named := matchNames(result.Matches)
				for _, s := range kind.sizes {
					if math.Abs(s.mm-reading.MM) <= off-1e-9 {
						require.Contains(t, named, s.name, "%v", reading)
					}
				}
			})
		})
	}
}
