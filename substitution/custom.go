package substitution

// Custom is a rule that no other kind can put: the length of a chain. It names all it looks at; judge is called only
// when the places are recorded, and must answer CantTell with what is missing when it needs what is not known.
type Custom struct {
	Of     []Ref
	Judge  func(s Scene, at Place) Judgement
	Narrow func(s Scene, at, choosing Place) []Condition // the conditions that follow for the part chosen
	// Geometry says that none follow: the answer hangs on several parts or dimensions at once.
	Geometry bool
}

func (t Custom) scope(at Place) []Place            { return scopeOf(at, t.Of...) }
func (t Custom) judge(s Scene, at Place) Judgement { return t.Judge(s, at) }

func (t Custom) narrow(s Scene, at, choosing Place) []Condition {
	if t.Narrow == nil {
		return nil
	}
	return t.Narrow(s, at, choosing)
}
