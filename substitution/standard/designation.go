package standard

import "fmt"

// namesOf tells what a designation names, where one was written in the place of a length: "6902-2RS", "M10x1", "28-622".
func namesOf(s string) []string {
	var names []string
	if r, err := bearingReadings(s); err == nil {
		names = append(names, fmt.Sprintf("bearing %s, %s mm", r[0], r[0].Envelope()))
	}
	if t, err := ParseTyre(s); err == nil {
		names = append(names, fmt.Sprintf("tyre %s, %d mm wide on a bead seat of %d mm", t, t.WidthMM, t.BeadMM))
	} else if b, err := ParseBead(s); err == nil {
		names = append(names, fmt.Sprintf("wheel with a bead seat of %s mm", b))
	} else if t, err := ParseThread(s); err == nil {
		names = append(names, fmt.Sprintf("thread %s, %s mm across", t, trim(round(t.DiameterMM, 2))))
	}
	if p, err := ParseSpoke(s); err == nil {
		names = append(names, fmt.Sprintf("spoke %s", p))
	}
	if c, err := ParseBoltCircle(s); err == nil {
		names = append(names, fmt.Sprintf("bolt circle %s", c))
	}
	return names
}
