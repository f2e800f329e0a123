package reorder

// Season is how much is asked for in each month, January first, over the mean of the year, as a person says it.
type Season [12]float64

// Riding is the season of riding: rentals a day of a city's hire bikes in 2011 and 2012, the mean of both years (computed
// from Fanaee-T and Gama, "Event labeling combining ensemble detectors and background knowledge", Progress in Artificial
// Intelligence 2, 2013). It stands in for a workshop's own until a year of books is there.
var Riding = Season{0.46, 0.575, 0.78, 0.985, 1.21, 1.31, 1.255, 1.27, 1.275, 1.16, 0.955, 0.77}

// SeasonOf is the season that twelve numbers tell, in any measure: how many bikes come in, or what is taken.
func SeasonOf(months [12]float64) (out Season) {
	sum := 0.0
	for _, n := range months {
		sum += n
	}
	for m, n := range months {
		out[m] = 12 * n / sum
	}
	return out
}

// Turned is the season of the other half of the earth.
func (s Season) Turned() (out Season) {
	for m := range s {
		out[m] = s[(m+6)%12]
	}
	return out
}
