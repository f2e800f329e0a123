package desk

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSentence(t *testing.T) {
	for words, want := range map[string]string{"": "", "chain": "Chain", "éclat": "Éclat", "“part 71” is": "“part 71” is", "9-speed": "9-speed"} {
		require.Equal(t, want, Sentence(words))
	}
}
