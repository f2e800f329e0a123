package pages

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestUnfold(t *testing.T) {
	for _, tc := range []struct{ name, page, want string }{
		{"nothing typed", `<details id="a"><form></form></details>`, `<details id="a"><form></form></details>`},
		{"a form", `<details id="a"><form data-typed></form></details><details id="b"></details>`, `<details open id="a"><form data-typed></form></details><details id="b"></details>`},
		{"a field of a form around the folds", `<form data-typed><details><p></p></details><details><div data-typed></div></details></form>`, `<form data-typed><details><p></p></details><details open><div data-typed></div></details></form>`},
		{"a fold in a fold", `<details><details><i data-typed></i><i data-typed></i></details></details>`, `<details open><details open><i data-typed></i><i data-typed></i></details></details>`},
		{"open already", `<details id="a" open><form data-typed></form></details>`, `<details id="a" open><form data-typed></form></details>`},
		{"words that look like it", `<details><p>&lt;details&gt; data-typed&gt;</p></details>`, `<details><p>&lt;details&gt; data-typed&gt;</p></details>`},
	} {
		t.Run(tc.name, func(t *testing.T) { require.Equal(t, tc.want, unfold(tc.page)) })
	}
}
