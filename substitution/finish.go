package substitution

// finishRule is the rule of every part that one sees: colour, surface and material as they were. Where it breaks, old
// and new stand side by side: "silver polished alloy in place of black anodised alloy".
func finishRule(f Family) Rule {
	return Rule{
		ID: string(f) + ".finish", Severity: Finish,
		Says:   "it looks as what was there did",
		Test:   Same{Mine: []string{"colour", "treatment", "material"}},
		Source: byLook,
	}
}

// materialRule is the rule of every part whose material the rider notices by its wear or strength; why says how.
func materialRule(f Family, why string, source Source) Rule {
	return Rule{
		ID: string(f) + ".material", Severity: Function,
		Says: "it is made of what was there",
		Test: Same{Mine: []string{"material"}, Feel: func(s Scene, at Place) string {
			was, _ := s.Was[at].Get("material")
			now, _ := s.Now[at].Get("material")
			return at.words() + ": " + now.word + " in place of " + was.word + ": " + why
		}},
		Source: source,
	}
}
