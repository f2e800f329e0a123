package reorder

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"time"
)

// mostDays is more working days than any file of sales tells of: four centuries.
const mostDays = 100_000

// SalesFileError says what is wrong in a file of sales, and where.
type SalesFileError struct {
	Row   int // the first row is the heads
	Field string
	What  string
}

func (e *SalesFileError) Error() string {
	if e.Field == "" {
		return fmt.Sprintf("row %d of the sales: %s", e.Row, e.What)
	}
	return fmt.Sprintf("row %d of the sales, %s: %s", e.Row, e.Field, e.What)
}

// ReadSales reads a file of sales: a row a sale, with the heads day, part, pieces and, if it is known, price, in any
// order and beside any others. A day is the number of a working day, five a week, or a date; a price is what the shop
// pays for a piece, in pounds, and the middle one of a part's prices stands. Columns are parted by commas, or as
// spreadsheets of other countries write them by semicolons or tabs, and prices then may have a decimal comma. Items
// come by name, each with its sales in order; one without any price has 0.
func ReadSales(from io.Reader) ([]Item, error) {
	whole := bufio.NewReader(from)
	r := csv.NewReader(whole)
	r.Comma = separatorOf(whole)
	r.FieldsPerRecord, r.TrimLeadingSpace, r.ReuseRecord = -1, true, true
	heads, err := r.Read()
	if errors.Is(err, io.EOF) {
		return nil, &SalesFileError{Row: 1, What: "the file is empty: it begins with the heads day,part,pieces and, if known, price"}
	}
	if err != nil {
		return nil, fmt.Errorf("read the sales: %w", err)
	}
	columns, err := salesColumns(heads)
	if err != nil {
		return nil, err
	}
	b := salesReader{columns: columns, sales: map[string][]Sale{}, prices: map[string][]float64{}}
	for row := 2; ; row++ {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			return b.items()
		}
		if err != nil {
			return nil, fmt.Errorf("read the sales: %w", err)
		}
		if err := b.add(row, fields); err != nil {
			return nil, err
		}
	}
}

// separatorOf is what parts the columns: of comma, semicolon and tab the first that the heads have.
func separatorOf(r *bufio.Reader) rune {
	heads, _ := r.Peek(200) // what is wrong with the file is found when it is read
	if i := bytes.IndexAny(heads, ",;\t\n"); i >= 0 && heads[i] != '\n' {
		return rune(heads[i])
	}
	return ','
}

// salesReader gathers the sales of a file.
type salesReader struct {
	columns      map[string]int
	dated, told  bool // days are dates; the first row has told which
	sales        map[string][]Sale
	prices       map[string][]float64
	first        int
	anySaleFirst bool
}

// salesColumns finds the columns by their heads.
func salesColumns(heads []string) (map[string]int, error) {
	names := map[string]string{"day": "day", "date": "day", "part": "part", "item": "part", "pieces": "pieces", "quantity": "pieces", "price": "price"}
	columns := map[string]int{}
	for i, head := range heads {
		name, known := names[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(head, "\ufeff")))]
		if !known {
			continue
		}
		if _, twice := columns[name]; twice {
			return nil, &SalesFileError{Row: 1, What: fmt.Sprintf("there are two columns for the %s: keep one", name)}
		}
		columns[name] = i
	}
	for _, needed := range []string{"day", "part", "pieces"} {
		if _, there := columns[needed]; !there {
			return nil, &SalesFileError{Row: 1, What: fmt.Sprintf("there is no column %q: the heads are day,part,pieces and, if known, price", needed)}
		}
	}
	return columns, nil
}

// add takes in a row.
func (b *salesReader) add(row int, fields []string) error {
	field := func(name string) string {
		if i, there := b.columns[name]; there && i < len(fields) {
			return strings.TrimSpace(fields[i])
		}
		return ""
	}
	wrong := func(name, what string) error {
		return &SalesFileError{Row: row, Field: name, What: fmt.Sprintf("%q %s", field(name), what)}
	}
	day, dated, ok := salesDay(field("day"))
	switch {
	case !ok:
		return wrong("day", "is neither the number of a working day, from 0 on, nor a date like 2026-03-31")
	case b.told && dated != b.dated:
		return wrong("day", "is a date where the rows before have numbers, or the other way: use one of the two")
	case field("part") == "":
		return wrong("part", "names no part")
	}
	b.dated, b.told = dated, true
	pieces, err := strconv.Atoi(strings.TrimSuffix(field("pieces"), ".0"))
	if err != nil || pieces < 1 || pieces > 1_000_000 {
		return wrong("pieces", "is not a number of pieces from 1 on: leave out what came back")
	}
	part := strings.Clone(field("part"))
	if text := field("price"); text != "" {
		price, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		if err != nil || !(price > 0) || price > 1e6 {
			return wrong("price", "is not a price above nought in pounds")
		}
		b.prices[part] = append(b.prices[part], price)
	}
	if !b.anySaleFirst || day < b.first {
		b.first, b.anySaleFirst = day, true
	}
	b.sales[part] = append(b.sales[part], Sale{Day: day, Pieces: pieces})
	return nil
}

// salesDay reads a day: a number, or a date, which is counted in working days.
func salesDay(text string) (day int, dated, ok bool) {
	if n, err := strconv.Atoi(text); err == nil {
		return n, false, n >= 0 && n <= mostDays
	}
	if len(text) > len(time.DateOnly) {
		text = text[:len(time.DateOnly)] // a time of day says no more
	}
	date, err := time.Parse(time.DateOnly, text)
	if err != nil || date.Year() < 1900 || date.Year() > 2200 {
		return 0, true, false
	}
	return WorkingDay(date), true, true
}

// WorkingDay is the number of a date's working day: five a week, from a Monday long ago. What is sold on a Saturday or a
// Sunday counts to the Friday before, so that a calendar week is always five of them.
func WorkingDay(date time.Time) int {
	days := int(time.Date(date.Year(), date.Month(), date.Day(), 0, 0, 0, 0, time.UTC).Unix() / (24 * 3600))
	days += 3 // 1 January 1970 was a Thursday
	week := weekOfSeven(days)
	return week*daysPerPeriod + min(days-7*week, daysPerPeriod-1)
}

// DaysSince1970 is the date of a working day again, in days since 1 January 1970.
func DaysSince1970(workingDay int) int {
	week := weekOf(workingDay)
	return 7*week + workingDay - daysPerPeriod*week - 3
}

func weekOfSeven(days int) int { return int(math.Floor(float64(days) / 7)) }

// items are the parts with their sales, dates counted from the Monday of the first week.
func (b *salesReader) items() ([]Item, error) {
	if len(b.sales) == 0 {
		return nil, &SalesFileError{Row: 2, What: "there is no sale in the file"}
	}
	shift := 0
	if b.dated {
		shift = weekOf(b.first) * daysPerPeriod
	}
	var items []Item
	for part, sales := range b.sales {
		for i := range sales {
			sales[i].Day -= shift
		}
		slices.SortStableFunc(sales, func(a, b Sale) int { return a.Day - b.Day })
		item := Item{Name: part, Sales: sales}
		if prices := b.prices[part]; len(prices) > 0 {
			slices.Sort(prices)
			item.Price = prices[len(prices)/2]
		}
		items = append(items, item)
	}
	slices.SortFunc(items, func(a, b Item) int { return strings.Compare(a.Name, b.Name) })
	return items, nil
}

// Make makes up the sales of so many parts over so many weeks, for trying rules where there are no books. How often a part
// sells is log-normal over the parts, about one sale in a month, with a spread of one (in the logarithm); in each week it
// sells with the chance that follows, on any day; a sale is of one piece and a negative binomial of mean 0.8 and shape 0.5
// more (the form of Petropoulos, Makridakis, Assimakopoulos and Nikolopoulos, "Horses for courses in demand forecasting",
// European Journal of Operational Research 237, 2014). One part in five is taken up only after the first third, and one in
// five is given up before the last. Prices are log-normal about £8, with a spread of one.
func Make(parts, weeks int, seed uint64) []Item {
	r := rand.New(rand.NewPCG(seed, 0))
	items := make([]Item, parts)
	for i := range items {
		rate := math.Exp(math.Log(0.25) + r.NormFloat64())
		from, to := 0, weeks
		if r.IntN(5) == 0 {
			from = weeks/3 + r.IntN(max(1, weeks/2))
		}
		if r.IntN(5) == 0 {
			to = weeks/2 + r.IntN(max(1, weeks/6))
		}
		items[i] = Item{Name: fmt.Sprintf("part %d", i+1), Price: math.Round(100*8*math.Exp(r.NormFloat64())) / 100}
		for week := from; week < to; week++ {
			if r.Float64() < 1-math.Exp(-rate) {
				items[i].Sales = append(items[i].Sales, Sale{Day: week*daysPerPeriod + r.IntN(daysPerPeriod), Pieces: 1 + beyondOne(r)})
			}
		}
	}
	return items
}

// beyondOne draws the pieces of a made sale beyond the first: a Poisson number whose mean is gamma, of mean 0.8 and shape
// one half, which is half the square of a normal.
func beyondOne(r *rand.Rand) int {
	z := r.NormFloat64()
	mean, pieces := 0.8*z*z, 0
	for at := r.ExpFloat64(); at < mean; at += r.ExpFloat64() {
		pieces++
	}
	return pieces
}
