package standard

import "math"

// ChainPitches is the exact length in pitches (links) of a chain wrapped tight round two sprockets whose centres are
// stayMM apart.
func ChainPitches(stayMM float64, ring, sprocket int) float64 {
	z1, z2 := float64(ring), float64(sprocket)
	turn := (z1 - z2) / (2 * math.Pi)
	return 2*stayMM/PitchMM + (z1+z2)/2 + turn*turn*PitchMM/stayMM
}

// ChainLinksBigBig is the usual rule for derailleurs: round the largest ring and largest sprocket without the derailleur,
// two links more, up to an even number.
func ChainLinksBigBig(stayMM float64, ring, sprocket int) int {
	return even(ChainPitches(stayMM, ring, sprocket) + 2)
}

// ChainLinksSimple is the other published rule, in inches: twice the stay, a quarter of each tooth count, and one inch.
// The two rules can differ by two links; cut to the longer.
func ChainLinksSimple(stayMM float64, ring, sprocket int) int {
	inches := 2*stayMM/Inch + float64(ring)/4 + float64(sprocket)/4 + 1
	return even(2 * inches)
}

func even(links float64) int { return int(2 * math.Ceil(links/2-1e-9)) }
