package rider

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/substitution"
)

func TestWords(t *testing.T) {
	for bench, rides := range map[string]string{
		"48T in place of 50T: every gear on this ring 4 % lower; the highest gear goes 9.54 m a turn in place of 9.94 m": "48 teeth instead of 50: every gear on this ring 4 % lower; the highest gear goes 9.54 m for one turn of the pedals instead of 9.94 m",
		"0.9 % worn, and 9-speed chains go at 0.75 %":                                                                    "0.9 % worn, and chains for 9 gears at the rear are changed at 0.75 %",
		"silver polished alloy":                         "polished silver aluminium",
		"black anodised alloy":                          "black aluminium",
		"grey raw steel":                                "plain grey steel",
		"1.7 mm thick, scrap at 1.5 mm as it is marked": "1.7 mm thick, to be changed at 1.5 mm as is marked on it",
		"skips under load: where the chain is not worn, the teeth under it are": "jumps when you pedal hard: where the chain is not worn, the teeth under it are",
		"does not skip under load":                            "does not jump when you pedal hard",
		"turns notchy: its races are marked":                  "turns notchy: the tracks that its balls run on are marked",
		"slight play: adjusting takes it out; turns smoothly": "slight looseness: adjusting takes it out; turns smoothly",
	} {
		require.Equal(t, rides, Words(bench))
	}
}

// Balls are called so wherever they lie, on both sides alike, and what they lie in is called by itself.
func TestOfBalls(t *testing.T) {
	for place, want := range map[substitution.Place]string{
		"rear.hub.balls-left": "balls of the rear wheel bearing", "rear.hub.balls-right": "balls of the rear wheel bearing",
		"front.hub.balls-right": "balls of the front wheel bearing", "headset.upper-balls": "balls of the steering bearing", "headset.crown-race": "steering bearing", "rear.hub.cone-left": "rear wheel bearing",
	} {
		require.Equal(t, want, Of(place).Name, place)
	}
}

// What the mechanic is to do is not for whom the bike belongs to.
func TestFound(t *testing.T) {
	for bench, told := range map[string]string{
		"hooked teeth hold the chain and wear the next one: measure the chain, and look at the sprockets that it ran on":                               "hooked teeth hold the chain and wear the next one",
		"0.9 % worn, and 8-speed chains go at 0.75 %: try the sprockets for skipping under load with the new chain":                                    "0.9 % worn, and chains for 8 gears at the rear are changed at 0.75 %",
		"slight play: a cartridge is not adjusted; where the axle has a preload ring try that first, and see that it is not loose in its seat":         "slight looseness: a cartridge is not adjusted",
		"2 broken: read the tension all round before the wheel is trued, the neighbours have carried the load; where more break, build the wheel anew": "2 broken",
		"damaged; 0.9 % worn: try the sprockets; teeth worn to points":                                                                                 "damaged; 0.9 % worn; teeth worn to points",
		"turns notchy: its races are marked": "turns notchy: the tracks that its balls run on are marked",
	} {
		require.Equal(t, told, Found(bench))
	}
}

// Every place of a bike has a name for a rider, and none of those is a word of the bench.
func TestOf(t *testing.T) {
	for _, site := range substitution.Sites() {
		place := site.Place
		require.NotEmpty(t, Of(place).Name, place)
		require.NotRegexp(t, `derailleur|cassette|bottom bracket|headset|rotor|freehub|\d+T\b`, Of(place).Name, place)
	}
}

func TestSwatch(t *testing.T) {
	colour, known := Swatch("silver polished alloy")
	require.Equal(t, "silver", colour)
	require.True(t, known)
	_, known = Swatch("polished alloy")
	require.False(t, known)
}
