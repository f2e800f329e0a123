package standard

import "strconv"

// HeadsetBearing is a cartridge bearing of a headset. Its rings are chamfered to sit in cup and crown race, so it is five
// numbers: bore, outer, height, and the angle inside and outside. No standard names it, and makers' numbers differ.
type HeadsetBearing struct {
	BoreMM   float64 `json:"bore_mm"`
	OuterMM  float64 `json:"outer_mm"`
	WidthMM  float64 `json:"width_mm"`
	InnerDeg float64 `json:"inner_angle_deg"`
	OuterDeg float64 `json:"outer_angle_deg"`
	Reference
}

// Name is the bearing as its sellers write it: "30.15 × 41 × 6.5, 36°/45°".
func (h HeadsetBearing) Name() string {
	return trim(h.BoreMM) + " × " + trim(h.OuterMM) + " × " + trim(h.WidthMM) + ", " + h.Angles()
}

// Angles are the inner and the outer angle: "36°/45°".
func (h HeadsetBearing) Angles() string {
	return strconv.Itoa(int(h.InnerDeg)) + "°/" + strconv.Itoa(int(h.OuterDeg)) + "°"
}

var memHeadset = fromMemory("size of a headset bearing")

// headsetBearings are a few of them; a workshop page counts more than 45 sizes on the market.
var headsetBearings = []HeadsetBearing{
	{30.15, 41, 6.5, 36, 45, Reference{"a bearing seller's guide, and a headset maker's for the angles", Practice}},
	{27.15, 38, 6.5, 36, 45, memHeadset},
	{30.15, 41.8, 6.5, 45, 45, memHeadset},
	{30.5, 41.8, 8, 45, 45, memHeadset},
	{40, 52, 7, 36, 45, memHeadset},
	{40, 52, 7, 45, 45, memHeadset},
}

// HeadsetBearings are all rows; the slice is the caller's own.
func HeadsetBearings() []HeadsetBearing { return append([]HeadsetBearing(nil), headsetBearings...) }
