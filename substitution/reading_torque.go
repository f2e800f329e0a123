package substitution

import "fmt"

// torqueDone is what a joint was put on with. It is held against the part's own mark, else against what is published
// for it; where there is neither, only the figure is kept.
var torqueDone = Reading{
	Dimension: Dimension{Name: "tightened_nm", Form: Number, Low: 0.1, High: 250, Means: "put on with", Measure: "the torque wrench that it was put on with: N·m"},
	Judge: func(l Look) Advice {
		done, _ := l.Figure("tightened_nm")
		part := l.Build[l.Place]
		a := Advice{Action: Keep, Words: fmt.Sprintf("put on with %s N·m", figure(done)), Source: byPractice}
		if mark, known := part.Get("torque_nm"); known {
			a.Source = Source{"the mark on the part", Catalogue}
			a.Words += fmt.Sprintf(", and %s are marked on it", mark)
			if off := done / mark.number; off < 0.9 || off > 1.1 {
				a.Action = Adjust
			}
			return a
		}
		site, err := SiteOf(l.Place)
		if err != nil {
			return a
		}
		listed := torquesAt(site, part)
		if len(listed) == 0 {
			a.Words += "; its own mark or its maker's figure is not on record"
			return a
		}
		low, high := listed[0].Low, listed[0].High
		for _, t := range listed {
			low, high = min(low, t.Low), max(high, t.High)
		}
		a.Source = listed[0].Source
		if done < low || done > high {
			a.Action = Adjust
		}
		if len(listed) > 1 || listed[0].Differ != "" { // of two joints it is not said which this was, and lists that differ decide nothing between them
			a.Words += fmt.Sprintf("; lists run from %s to %s, and only its own mark or its maker's figure decides between them", figure(low), figure(high))
			return a
		}
		a.Words += fmt.Sprintf("; %s to %s by a published list, and its maker's figure counts before that", figure(low), figure(high))
		return a
	},
}
