package privatepg

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
)

// port names the socket file; nothing listens on the network. A fixed number keeps PGPORT from changing it.
const port = "5432"

// maxSocketPath is the longest socket path that every system takes: Linux has room for 107 bytes, macOS for 103.
const maxSocketPath = 100

// DirectoryError says that the database cannot live in a directory, and why.
type DirectoryError struct {
	Dir     string
	Problem string
}

func (e *DirectoryError) Error() string {
	return fmt.Sprintf("the database directory %s %s", e.Dir, e.Problem)
}

// DefaultDir is where the workshop's own data goes: $STEAD_DATA, where that is set, for everybody. Else for root it is
// /var/lib/stead, whatever XDG_DATA_HOME says, because the server runs as another user, who cannot enter root's home. For
// anybody else it is the data folder of their home: $XDG_DATA_HOME/stead (~/.local/share/stead), on macOS
// ~/Library/Application Support/stead.
func DefaultDir() (string, error) {
	if dir := os.Getenv("STEAD_DATA"); dir != "" {
		if !filepath.IsAbs(dir) {
			return "", fmt.Errorf("STEAD_DATA is %s: write it from the root on, so that it is the same folder wherever stead is run", dir)
		}
		return filepath.Clean(dir), nil
	}
	if os.Geteuid() == 0 {
		return "/var/lib/stead", nil
	}
	// The XDG specification tells programs to ignore a relative path.
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "stead"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("find a place for the database: %w: name one in STEAD_DATA", err)
	}
	if runtime.GOOS == "darwin" {
		return filepath.Join(home, "Library", "Application Support", "stead"), nil
	}
	return filepath.Join(home, ".local", "share", "stead"), nil
}

// rootsPlace says, for root, why a place that was asked for is not the one; "" where there is nothing to say.
func rootsPlace(dir string) string {
	asked := os.Getenv("XDG_DATA_HOME")
	if os.Geteuid() != 0 || asked == "" || os.Getenv("STEAD_DATA") != "" || dir == filepath.Join(asked, "stead") {
		return ""
	}
	return " For root XDG_DATA_HOME does not count, because the database runs as another user; STEAD_DATA names another place."
}

// prepareDir makes the directory, and makes sure that it is ours and that the server's user can walk to it.
func prepareDir(dir string, server account) error {
	// Others may walk through, for root's server needs to, but not look around.
	mode := fs.FileMode(0o700)
	if server.switchUser {
		mode = 0o711
	}
	// The parents follow the umask. Only the last directory gets the tight mode.
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return &DirectoryError{Dir: dir, Problem: fmt.Sprintf("cannot be made (%v): %s", err, nameAnother)}
	}
	if err := os.Mkdir(dir, mode); err == nil {
		if err := os.Chmod(dir, mode); err != nil { // whatever the umask took away
			return &DirectoryError{Dir: dir, Problem: fmt.Sprintf("cannot be opened to the database's user: %v", err)}
		}
	} else if !errors.Is(err, fs.ErrExist) {
		return &DirectoryError{Dir: dir, Problem: fmt.Sprintf("cannot be made (%v): %s", err, nameAnother)}
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return &DirectoryError{Dir: dir, Problem: fmt.Sprintf("cannot be looked at: %v", err)}
	}
	// In a shared place such as /tmp somebody could have put a directory or a link of this name there first.
	if !info.IsDir() {
		return &DirectoryError{Dir: dir, Problem: "is a file or a link: " + nameAnother}
	}
	if !ownedByUs(info) && !server.owns(info) {
		return &DirectoryError{Dir: dir, Problem: belongsTo(info)}
	}
	if !server.switchUser {
		return nil
	}
	return checkWalkable(dir, server)
}

// nameAnother is what to do about a place where nothing can be kept.
const nameAnother = "name another folder in STEAD_DATA, from the root on"

// checkWalkable checks each directory down to dir: the error of the server's own tools would blame the wrong thing.
func checkWalkable(dir string, server account) error {
	var path []string
	for d := dir; ; d = filepath.Dir(d) {
		path = append(path, d)
		if d == filepath.Dir(d) {
			break
		}
	}
	slices.Reverse(path)
	for _, d := range path {
		info, err := os.Stat(d)
		if err != nil {
			return &DirectoryError{Dir: dir, Problem: fmt.Sprintf("cannot be looked at: %v", err)}
		}
		if !server.canWalk(info) {
			return &DirectoryError{Dir: dir, Problem: fmt.Sprintf(
				"cannot be used by root, because the database runs as user %s, who may not enter %s: choose a directory outside it, such as /var/lib/stead",
				server.name(), d)}
		}
	}
	return nil
}

// socketDir makes the directory for the socket: beside the data, or in a short place named by the directory's hash when
// the path would not fit into a socket address.
func (s *Server) socketDir() (string, error) {
	dir := filepath.Join(s.dir, "socket")
	if len(filepath.Join(dir, ".s.PGSQL."+port)) > maxSocketPath {
		sum := sha256.Sum256([]byte(s.dir))
		// Not os.TempDir: on macOS that is long itself.
		dir = fmt.Sprintf("/tmp/stead-%s-%x", s.account.name(), sum[:6])
	}
	err := os.Mkdir(dir, 0o700)
	if err == nil {
		err = s.account.own(dir)
	} else if errors.Is(err, fs.ErrExist) {
		err = nil
	}
	if err != nil {
		return "", fmt.Errorf("make the socket directory: %w", err)
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return "", fmt.Errorf("look at the socket directory: %w", err)
	}
	if !info.IsDir() || !s.account.owns(info) || info.Mode().Perm() != 0o700 {
		return "", &DirectoryError{Dir: dir, Problem: fmt.Sprintf(
			"is for the database's socket and must be open to user %s alone: remove it", s.account.name())}
	}
	return dir, nil
}
