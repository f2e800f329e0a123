package postkey

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/post"
)

func TestPasswordIsOneServersOwn(t *testing.T) {
	t.Setenv(Variable, "")
	f := Folder(filepath.Join(t.TempDir(), "data"))
	server := post.Server{Host: "mail.example", Account: "shop"}
	_, err := f.Password(server)
	require.ErrorContains(t, err, "is not on this machine")
	require.NoError(t, f.Keep(server, "pässword"))
	word, err := f.Password(server)
	require.NoError(t, err)
	require.Equal(t, "pässword", word)
	info, err := os.Stat(f.file())
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode())

	for _, other := range []post.Server{{Host: "elsewhere.example", Account: "shop"}, {Host: "mail.example", Account: "other"}} {
		_, err := f.Password(other)
		require.ErrorContains(t, err, "is not on this machine", "it is told to no other")
	}
	t.Setenv(Variable, "from outside")
	word, err = Folder("").Password(server)
	require.NoError(t, err)
	require.Equal(t, "from outside", word)
	require.Error(t, Folder("").Keep(server, "x"))
}
