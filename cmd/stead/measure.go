package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"stead/substitution/measure"
	"stead/substitution/standard"
)

func newMeasure() *cobra.Command {
	cmd := group("measure", "What is in my hand? Name a part by what a tool reads on it",
		measureBearing(), measureBalls(), measureChainring(), measureThread(), measureTyre(), measureRim(), measureChain(),
		measureFork(), measureSeatpost(), measureHandlebar(), measureSpoke(), measureSpokes(), measureShell(),
		measureFreehub(), measureLever(), measureCable())
	cmd.Long = `Names the standard sizes that the readings allow, those that get confused with
them, and which further measurement tells them apart. Lengths are millimetres
unless they say otherwise: 14.98, "5/32" (a fraction is inches), "1.5 in".`
	return cmd
}

// measuring is a command that names a part from readings.
type measuring struct {
	*cobra.Command
	identify func() (measure.Result, error)
	readings []*lengthFlag
	tool     string
	errorMM  float64
}

// newMeasuring makes the command for one kind of part; identify is asked when all readings are in place.
func newMeasuring(use, short, example string, identify func() (measure.Result, error)) *measuring {
	m := &measuring{Command: &cobra.Command{Use: use, Short: short, Args: exactly(), Example: example}, identify: identify}
	m.Flags().StringVar(&m.tool, "tool", "", "what the lengths were read with: caliper, ruler or tape (default caliper; a length round a wheel: tape)")
	m.Flags().Float64Var(&m.errorMM, "error", 0, "how far a reading may be off, in mm (default caliper 0.05, ruler 0.5, tape 2)")
	m.RunE = func(cmd *cobra.Command, _ []string) error {
		if err := m.take(); err != nil {
			return usage(cmd, err)
		}
		result, err := m.identify()
		if err != nil {
			return usage(cmd, err)
		}
		return show(cmd, result, func() { say(cmd, "%s", strings.TrimSuffix(result.Words(), "\n")) })
	}
	return m
}

// length adds a flag for one length.
func (m *measuring) length(into **measure.Reading, name, meaning string) {
	m.readings = append(m.readings, &lengthFlag{name: name, into: into, usual: measure.Caliper})
	m.Flags().Var(m.readings[len(m.readings)-1], name, meaning)
}

// round adds a flag for a length that is taken with a tape unless it is said otherwise.
func (m *measuring) round(into **measure.Reading, name, meaning string) {
	m.length(into, name, meaning)
	m.readings[len(m.readings)-1].usual = measure.Tape
}

// take puts the lengths where identify looks for them, each with its tool and error.
func (m *measuring) take() error {
	tools := map[string]func(float64) *measure.Reading{"caliper": measure.Caliper, "ruler": measure.Ruler, "tape": measure.Tape}
	tool, known := tools[m.tool]
	if m.tool != "" && !known {
		return fmt.Errorf("--tool is caliper, ruler or tape, not %q", m.tool)
	}
	for _, l := range m.readings {
		if l.text == "" {
			continue
		}
		read := tool
		if read == nil {
			read = l.usual
		}
		*l.into = read(l.mm)
		if m.Flags().Changed("error") {
			(*l.into).ErrorMM = m.errorMM
		}
	}
	return nil
}

// lengthFlag is a length as it is written on the command line.
type lengthFlag struct {
	name  string
	text  string
	mm    float64
	into  **measure.Reading
	usual func(mm float64) *measure.Reading
}

func (l *lengthFlag) String() string { return l.text }
func (l *lengthFlag) Type() string   { return "length" }

func (l *lengthFlag) Set(text string) error {
	if strings.HasPrefix(text, "-") {
		return fmt.Errorf("a length is never below nothing: %q", text)
	}
	value, unit, err := standard.ParseLength(text)
	if err != nil {
		return err
	}
	if unit == standard.UnitInch {
		value = math.Round(value*standard.Inch*100) / 100 // no tool here shows more than hundredths of a millimetre
	}
	l.text, l.mm = text, value
	return nil
}
