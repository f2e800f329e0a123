package pages_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A part in hand is asked about at a bike's place, in the stead of another and with another, each rule with its source; a
// part that is named by words is found by them.
func TestFit(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for name, c := range map[string]struct {
		path string
		says []string
	}{
		"all at a place":     {"/fit?job=101&place=crank.outer-ring", []string{"outer chainring, Ines Falkner’s blue touring bike", "different: ", "free"}},
		"one at a place":     {"/fit?job=101&place=crank.outer-ring&b=COR-R110-50O-S", []string{"as outer chainring", "Rule by rule", "holds", "bolt circle"}},
		"in the stead":       {"/fit?ask=instead&a=COR-R110-50O-B&b=ALD-R110-50O-S", []string{"Fits", "finish: outer chainring: silver polished alloy in place of black anodised alloy"}},
		"two together":       {"/fit?ask=pair&a=TAR-CH9&b=TAR-CS9-1132", []string{"Fits", "Rule by rule"}},
		"no rule joins them": {"/fit?ask=pair&a=TAR-CH9&b=TAR-CH9", []string{"no rule joins a chain and a chain"}},
		"named by words":     {"/fit?ask=pair&a=ring+50T&b=TAR-CH9", []string{`no part has the number or code "ring 50T"`, "Is it one of these?", "ring 50T 110 mm"}},
		"of another family":  {"/fit?job=101&place=chain&b=COR-R110-50O-S", []string{"the chain takes a chain, and"}},
	} {
		t.Run(name, func(t *testing.T) {
			a := (&visitor{t, s, v.http}).get(c.path)
			for _, words := range c.says {
				require.Contains(t, a.text, words)
			}
		})
	}
}

// What a caliper reads names a part as the command does; what is no reading is told beside its field.
func TestMeasure(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	for name, c := range map[string]struct {
		path string
		says []string
	}{
		"a bearing":        {"/measure?of=bearing&bore=14.98&outer=27.97&width=6.95", []string{"This is a 6902", "Easily confused with it"}},
		"a fraction":       {"/measure?of=balls&diameter=5%2F32", []string{"5/32 in"}},
		"with a ruler":     {"/measure?of=bearing&bore=15&outer=28&width=7&tool=ruler", []string{"6902"}},
		"a tick":           {"/measure?of=shell&inside=33.7&width=68&threaded=yes&drive-hand=left", []string{"bsa"}},
		"too little":       {"/measure?of=chainring&adjacent=64.6", []string{"say how many bolts the ring has"}},
		"no length":        {"/measure?of=bearing&bore=wide", []string{`"wide" is not a length`}},
		"no whole number":  {"/measure?of=chainring&bolts=five", []string{"this is a whole number, not five"}},
		"below nothing":    {"/measure?of=bearing&bore=-3", []string{"a length is never below nothing"}},
		"no such seal":     {"/measure?of=bearing&bore=15&seal=wet", []string{"write one of open"}},
		"a tool not known": {"/measure?of=bearing&bore=15&tool=thumb", []string{"the tool is caliper, ruler or tape"}},
	} {
		t.Run(name, func(t *testing.T) {
			a := (&visitor{t, s, v.http}).get(c.path)
			for _, words := range c.says {
				require.Contains(t, a.text, words)
			}
		})
	}
}
