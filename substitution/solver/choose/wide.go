package choose

// judge asks a wide rule about a full tuple of marks, once.
func (w *wide) judge(marks []int) *cell {
	name := string(markName(marks))
	if c, ok := w.memo[name]; ok {
		return c
	}
	c := &cell{}
	c.add(w.rule.Judge(marks))
	w.memo[name] = c
	return c
}

// maxHope bounds how many ways to go on are tried to see whether any keeps a wide rule.
const maxHope = 2048

// hopeful reports whether the marks decided so far, the others being -1, can be completed so that the rule does not
// stop. Where there are too many completions to try it says yes.
func (w *wide) hopeful(marks []int) bool {
	name := string(markName(marks))
	if h, ok := w.hope[name]; ok {
		return h
	}
	ways := 1
	for k, m := range marks {
		if m < 0 {
			if ways *= len(w.distinct[k]); ways > maxHope {
				return true
			}
		}
	}
	full := append([]int(nil), marks...)
	var try func(k int) bool
	try = func(k int) bool {
		for k < len(marks) && marks[k] >= 0 {
			k++
		}
		if k == len(marks) {
			return !w.judge(full).stops
		}
		for _, m := range w.distinct[k] {
			full[k] = m
			if try(k + 1) {
				return true
			}
		}
		return false
	}
	h := try(0)
	w.hope[name] = h
	return h
}

func markName(marks []int) []byte {
	name := make([]byte, 0, 64)
	for _, m := range marks {
		name = append(name, byte(m), byte(m>>8), byte(m>>16), byte(m>>24))
	}
	return name
}
