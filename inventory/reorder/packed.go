package reorder

import (
	"encoding/binary"
	"math"
)

// Packed are one part's sales in the least room, oldest first: the days from one to the next and the pieces, in mostly two
// bytes a sale where a [Sale] takes 24. All that many parts ever sold is held so.
type Packed string

// Pack puts sales, which are in the order of their days, into the least room.
func Pack(sales []Sale) Packed {
	bytes := make([]byte, 0, 3*len(sales))
	day := 0
	for _, s := range sales {
		bytes = binary.AppendVarint(bytes, int64(s.Day-day))
		day = s.Day
		if s.Share == 0 {
			bytes = binary.AppendVarint(bytes, int64(s.Pieces)<<1)
			continue
		}
		bytes = binary.AppendVarint(bytes, int64(s.Pieces)<<1|1)
		bytes = binary.BigEndian.AppendUint64(bytes, math.Float64bits(s.Share))
	}
	return Packed(bytes)
}

// Sales adds them to those that are there, whose room is used.
func (p Packed) Sales(to []Sale) []Sale {
	day := 0
	for len(p) > 0 {
		var s Sale
		s, p = p.next(day)
		day = s.Day
		to = append(to, s)
	}
	return to
}

// next is the first sale of those there are, by the day of the one before, and the others.
func (p Packed) next(day int) (Sale, Packed) {
	days, p := p.varint()
	pieces, p := p.varint()
	s := Sale{Day: day + int(days), Pieces: int(pieces >> 1)}
	if pieces&1 == 1 {
		bits := uint64(0)
		for _, b := range []byte(p[:8]) {
			bits = bits<<8 | uint64(b)
		}
		s.Share, p = math.Float64frombits(bits), p[8:]
	}
	return s, p
}

// varint is the number that they begin with, as [binary.AppendVarint] writes it, and the rest.
func (p Packed) varint() (int64, Packed) {
	bits, shift := uint64(0), 0
	for i := 0; ; i++ {
		bits |= uint64(p[i]&0x7f) << shift
		if p[i] < 0x80 {
			return int64(bits>>1) ^ -int64(bits&1), p[i+1:]
		}
		shift += 7
	}
}

// before reports whether any was made before the day.
func (p Packed) before(day int) bool {
	if p == "" {
		return false
	}
	first, _ := p.next(0)
	return first.Day < day
}

// StockBook is the parts of a shop and what was sold of each: the items have no sales themselves.
type StockBook struct {
	Items []Item
	Sold  []Packed
}

// RoomFor is a stock book with room for so many items.
func RoomFor(items int) StockBook {
	return StockBook{make([]Item, 0, items), make([]Packed, 0, items)}
}

// Add takes in one more item with its sales.
func (b *StockBook) Add(item Item) {
	b.Sold = append(b.Sold, Pack(item.Sales))
	item.Sales = nil
	b.Items = append(b.Items, item)
}

// stockBook is that of the items.
func stockBook(items []Item) StockBook {
	b := RoomFor(len(items))
	for _, item := range items {
		b.Add(item)
	}
	return b
}

// Whole is an item with its sales.
func (b StockBook) Whole(item int) Item {
	whole := b.Items[item]
	whole.Sales = b.Sold[item].Sales(nil)
	return whole
}
