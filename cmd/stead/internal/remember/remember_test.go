package remember

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestTheSameChangeIsTakenUp(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "data", "requests")
	change := Change{Key: "K1", What: "stock receive BALL 10", Database: "stead at h:1", Begun: time.Now()}
	first, err := Begin(folder, change)
	require.NoError(t, err)
	require.False(t, first.Earlier)

	// While the first is at it, the same again is another's own.
	change.Key = "K2"
	second, err := Begin(folder, change)
	require.NoError(t, err)
	require.False(t, second.Earlier)
	require.Equal(t, "K2", second.Key)
	second.Forget(folder)

	first.Leave()
	for name, other := range map[string]Change{
		"another database": {Key: "K3", What: change.What, Database: "elsewhere"},
		"another change":   {Key: "K4", What: "stock receive BALL 11", Database: change.Database},
	} {
		t.Run(name, func(t *testing.T) {
			k, err := Begin(folder, other)
			require.NoError(t, err)
			require.False(t, k.Earlier)
			k.Forget(folder)
		})
	}
	change.Key = "K5"
	again, err := Begin(folder, change)
	require.NoError(t, err)
	require.True(t, again.Earlier)
	require.Equal(t, "K1", again.Key)
	again.Forget(folder)
	left, err := All(folder)
	require.NoError(t, err)
	require.Empty(t, left)
}

func TestWhatNobodyAskedForGoes(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "requests")
	for key, age := range map[string]time.Duration{"OLD": 91 * 24 * time.Hour, "NEW": 89 * 24 * time.Hour} {
		k, err := Begin(folder, Change{Key: key, What: key})
		require.NoError(t, err)
		k.Leave()
		paths, err := filepath.Glob(filepath.Join(folder, "*-"+key+".json"))
		require.NoError(t, err)
		require.Len(t, paths, 1)
		require.NoError(t, os.Chtimes(paths[0], time.Now(), time.Now().Add(-age)))
	}
	half := filepath.Join(folder, "new-killed")
	require.NoError(t, os.WriteFile(half, []byte("{"), 0o600))
	require.NoError(t, os.Chtimes(half, time.Now(), time.Now().Add(-2*time.Hour)))
	left, err := All(folder)
	require.NoError(t, err)
	require.Len(t, left, 1)
	require.Equal(t, "NEW", left[0].Key)
	require.NoFileExists(t, half)
}

func TestAFolderThatCannotBe(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	_, err := Begin(filepath.Join(file, "requests"), Change{Key: "K", What: "w"})
	require.Error(t, err)
	_, err = Begin("", Change{Key: "K", What: "w"})
	require.Error(t, err)
}
