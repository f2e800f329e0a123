package paper

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Size is a page, in millimetres; of a roll the height is as much as is printed.
type Size struct {
	Width, Height float64
	Roll          bool
}

// A4 is the sheet of ISO 216.
var A4 = Size{Width: 210, Height: 297}

var (
	roll  = regexp.MustCompile(`^(\d{1,3})mm$`)
	sheet = regexp.MustCompile(`^(\d{1,3})x(\d{1,3})mm$`)
)

// ReadSize reads a size as it is typed: a4, a roll's width such as 80mm, or a sheet's such as 70x37mm.
func ReadSize(text string) (Size, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	number := func(digits string) float64 {
		n, _ := strconv.Atoi(digits) // three digits at most, as matched
		return float64(n)
	}
	if text == "a4" {
		return A4, nil
	}
	if m := roll.FindStringSubmatch(text); m != nil {
		return Size{Width: number(m[1]), Roll: true}, nil
	}
	if m := sheet.FindStringSubmatch(text); m != nil {
		return Size{Width: number(m[1]), Height: number(m[2])}, nil
	}
	return Size{}, fmt.Errorf("a page is a4, a roll's width such as 80mm, or WIDTHxHEIGHTmm such as 70x37mm, not %q", text)
}

func (z Size) String() string {
	if z.Roll {
		return fmt.Sprintf("a roll %g mm wide", z.Width)
	}
	return fmt.Sprintf("a page of %g × %g mm", z.Width, z.Height)
}

// SmallError is a page on which something has no room.
type SmallError struct {
	Size Size
	What string
}

func (e *SmallError) Error() string {
	return fmt.Sprintf("%s is too small for %s: take a larger one", e.Size, e.What)
}

// margin is what most printers cannot print on, and a thumb holds.
func (z Size) margin() float64 {
	if z.Roll || z.Width < A4.Width/2 {
		return 4
	}
	return 18
}

// inner is the width between the margins.
func (z Size) inner() float64 { return z.Width - 2*z.margin() }

// points is the size of the running text.
func (z Size) points() float64 {
	if z.Width < A4.Width/2 {
		return 8
	}
	return 11
}
