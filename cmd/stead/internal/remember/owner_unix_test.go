//go:build unix

package remember

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestRootGivesWhatItMakes has root work on the data of an ordinary user, and then on its own.
func TestRootGivesWhatItMakes(t *testing.T) {
	if os.Geteuid() != 0 {
		t.Skip("only root can work on another user's data")
	}
	for _, owner := range []int{65534, 0} {
		data := t.TempDir()
		require.NoError(t, os.Chown(data, owner, owner))
		folder := filepath.Join(data, "requests")
		k, err := Begin(folder, Change{Key: "K1", What: "stock receive BALL 10"})
		require.NoError(t, err)
		k.Leave()
		left, err := filepath.Glob(filepath.Join(folder, "*"))
		require.NoError(t, err)
		require.Len(t, left, 1)
		for _, path := range append(left, folder) {
			info, err := os.Stat(path)
			require.NoError(t, err)
			require.EqualValues(t, owner, info.Sys().(*syscall.Stat_t).Uid, path)
		}
	}
}
