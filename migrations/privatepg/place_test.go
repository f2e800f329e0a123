//go:build unix

package privatepg

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations"
)

func TestLongDirectory(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(emptyDir(t), strings.Repeat("long", 30), "s")
	require.NoError(t, os.MkdirAll(filepath.Dir(dir), 0o755))
	require.NoError(t, os.Rename(readyDir(t), dir))
	s := open(t, dir)
	require.Less(t, len(s.socket), maxSocketPath)
	t.Cleanup(func() { os.RemoveAll(s.socket) })
	pidOf(t, s) // it answers
	require.NoError(t, s.Close())
	requireStopped(t, dir)
}

func TestDataOfAnotherVersion(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(emptyDir(t), "s")
	data := filepath.Join(dir, "data")
	require.NoError(t, os.MkdirAll(data, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("9\n"), 0o600))

	_, err := Open(t.Context(), Options{Dir: dir})
	var version *VersionError
	require.ErrorAs(t, err, &version)
	require.Equal(t, 9, version.DataMajor)
	require.NotEmpty(t, version.Found)
	require.ErrorContains(t, err, "was made by PostgreSQL 9")
	require.FileExists(t, filepath.Join(data, "PG_VERSION"), "the workshop's data is left alone")

	s := open(t, dir) // test data is not
	require.NoError(t, s.Close())
}

func TestDataCutShort(t *testing.T) {
	for name, prepare := range map[string]func(data string) error{
		"no version":         func(string) error { return nil },
		"unreadable version": func(data string) error { return os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("?"), 0o600) },
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := filepath.Join(emptyDir(t), "s")
			data := filepath.Join(dir, "data")
			require.NoError(t, os.MkdirAll(data, 0o755))
			require.NoError(t, prepare(data))
			_, err := Open(t.Context(), Options{Dir: dir})
			var directory *DirectoryError
			require.ErrorAs(t, err, &directory)
			require.DirExists(t, data)
		})
	}
	t.Run("workshop's data broken", func(t *testing.T) {
		t.Parallel()
		dir := readyDir(t)
		control := filepath.Join(dir, "data", "global", "pg_control")
		require.NoError(t, os.Truncate(control, 0))
		_, err := Open(t.Context(), Options{Dir: dir})
		require.ErrorContains(t, err, "pg_control", "what the server said is handed on")
		require.FileExists(t, control)
	})
}

func TestBrokenTestDataIsMadeAfresh(t *testing.T) {
	t.Parallel()
	dir := readyDir(t)
	require.NoError(t, os.Remove(filepath.Join(dir, "data", "global", "pg_control")))
	s := open(t, dir)
	pidOf(t, s)
	require.NoError(t, s.Close())
}

func TestForeignDirectory(t *testing.T) {
	t.Parallel()
	link := filepath.Join(emptyDir(t), "link")
	require.NoError(t, os.Symlink(t.TempDir(), link))
	_, err := Open(t.Context(), Options{Dir: link})
	var directory *DirectoryError
	require.ErrorAs(t, err, &directory)
	require.ErrorContains(t, err, "is a file or a link: name another folder in STEAD_DATA")
	file := filepath.Join(emptyDir(t), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	for _, dir := range []string{file, filepath.Join(file, "s")} {
		_, err := Open(t.Context(), Options{Dir: dir})
		require.ErrorAs(t, err, &directory, dir)
		require.ErrorContains(t, err, "name another folder in STEAD_DATA")
	}
}

func TestRootsOwnRules(t *testing.T) {
	needRoot(t)
	t.Run("an ordinary user", func(t *testing.T) {
		t.Parallel()
		dir := filepath.Dir(readyDir(t))
		as := nobody(t)
		require.NoError(t, exec.Command("chown", "-R", fmt.Sprintf("%d:%d", as.Uid, as.Gid), dir).Run())
		p := startProcess(t, filepath.Join(dir, "s"), as)
		p.waitOpen(t)
		info, err := os.Stat(filepath.Join(dir, "s", "data"))
		require.NoError(t, err)
		require.Equal(t, as.Uid, info.Sys().(*syscall.Stat_t).Uid)

		// Root joins and leaves the same server: the data keeps its owner.
		s := open(t, filepath.Join(dir, "s"))
		pidOf(t, s)
		p.end(t)
		require.NoError(t, s.Close())
		requireStopped(t, filepath.Join(dir, "s"))
	})
	t.Run("others cannot reach the socket", func(t *testing.T) {
		t.Parallel()
		dir := readyDir(t)
		s := open(t, dir)
		defer s.Close()
		try := exec.Command("test", "-e", filepath.Join(s.socket, ".s.PGSQL."+port))
		require.NoError(t, try.Run(), "root sees it")
		if s.account.uid == nobody(t).Uid {
			t.Skip("the server runs as nobody here")
		}
		try = exec.Command("test", "-e", filepath.Join(s.socket, ".s.PGSQL."+port))
		try.SysProcAttr = &syscall.SysProcAttr{Credential: nobody(t)}
		require.Error(t, try.Run())
	})
	t.Run("somebody else's data", func(t *testing.T) {
		t.Parallel()
		dir := readyDir(t)
		require.NoError(t, os.Chmod(filepath.Dir(dir), 0o777))
		p := startProcess(t, dir, nobody(t))
		out, err := io.ReadAll(p.out)
		require.NoError(t, err)
		require.Contains(t, string(out), "the database directory "+dir+" belongs to root: run stead as root, or name another folder")
		require.Error(t, p.cmd.Wait())
	})
	t.Run("a directory the server cannot walk to", func(t *testing.T) {
		t.Parallel()
		closed := t.TempDir()
		require.NoError(t, os.Chmod(closed, 0o700))
		_, err := Open(t.Context(), Options{Dir: filepath.Join(closed, "s")})
		var directory *DirectoryError
		require.ErrorAs(t, err, &directory)
		require.ErrorContains(t, err, "may not enter")
		require.NoDirExists(t, filepath.Join(closed, "s", "data"))
	})
	t.Run("default place", func(t *testing.T) {
		dir, err := DefaultDir()
		require.NoError(t, err)
		require.Equal(t, "/var/lib/stead", dir)
	})
}

func TestPlaceOfData(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_DATA_HOME", filepath.Join(dir, "xdg"))
	t.Setenv("STEAD_DATA", filepath.Join(dir, "own"))
	got, err := DefaultDir()
	require.NoError(t, err)
	require.Equal(t, filepath.Join(dir, "own"), got, "for everybody, root too")
	require.Empty(t, rootsPlace(got))
	t.Setenv("STEAD_DATA", "here")
	_, err = DefaultDir()
	require.ErrorContains(t, err, "STEAD_DATA is here: write it from the root on")
	t.Setenv("STEAD_DATA", "")
	got, err = DefaultDir()
	require.NoError(t, err)
	if os.Geteuid() == 0 {
		require.Equal(t, "/var/lib/stead", got)
		require.Contains(t, rootsPlace(got), "STEAD_DATA names another place")
	} else {
		require.Equal(t, filepath.Join(dir, "xdg", "stead"), got)
	}
}

func TestFullDisk(t *testing.T) {
	t.Parallel()
	t.Run("first start", func(t *testing.T) {
		dir := filepath.Join(smallDisk(t, "4m"), "s")
		_, err := Open(t.Context(), Options{Dir: dir})
		var full *migrations.DiskFullError
		require.ErrorAs(t, err, &full)
		require.EqualError(t, full, "there is no room left on the disk of "+dir+": free some space there")
	})
	t.Run("start", func(t *testing.T) {
		disk := smallDisk(t, "200m")
		dir := filepath.Join(disk, "s")
		require.NoError(t, exec.Command("cp", "-a", readyDir(t), dir).Run())
		fill := exec.Command("dd", "if=/dev/zero", "of="+filepath.Join(disk, "ballast"), "bs=64k")
		require.Error(t, fill.Run(), "until there is no room")
		_, err := Open(t.Context(), Options{Dir: dir})
		var full *migrations.DiskFullError
		require.ErrorAs(t, err, &full)
		require.NoError(t, os.Remove(filepath.Join(disk, "ballast")))
		s, err := Open(t.Context(), Options{Dir: dir})
		require.NoError(t, err, "nothing is lost")
		require.NoError(t, s.Close())
	})
}
