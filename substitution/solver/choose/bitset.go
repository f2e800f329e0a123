package choose

import "math/bits"

// bitset is a set of small numbers.
type bitset []uint64

func newBitset(n int) bitset { return make(bitset, (n+63)/64) }

func (b bitset) set(i int)      { b[i/64] |= 1 << (i % 64) }
func (b bitset) unset(i int)    { b[i/64] &^= 1 << (i % 64) }
func (b bitset) has(i int) bool { return b[i/64]>>(i%64)&1 == 1 }

// both puts the members of a that are in c into b, and reports whether there are any.
func (b bitset) both(a, c bitset) bool {
	var any uint64
	for i := range b {
		b[i] = a[i] & c[i]
		any |= b[i]
	}
	return any != 0
}

// next is the first member from i on, or -1.
func (b bitset) next(i int) int {
	for w := i / 64; w < len(b); w++ {
		word := b[w]
		if w == i/64 {
			word &= ^uint64(0) << (i % 64)
		}
		if word != 0 {
			return w*64 + bits.TrailingZeros64(word)
		}
	}
	return -1
}

// members are the set's, ascending.
func (b bitset) members() []int32 {
	var out []int32
	for i := b.next(0); i >= 0; i = b.next(i + 1) {
		out = append(out, int32(i))
	}
	return out
}
