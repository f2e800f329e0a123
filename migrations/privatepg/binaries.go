package privatepg

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// minMajor is the oldest Postgres whose SQL we use: MERGE came with 15.
const minMajor = 15

// tools are the programs of one Postgres installation.
type tools struct {
	dir   string
	major int
}

func (t tools) path(name string) string { return filepath.Join(t.dir, name) }

// NoBinariesError says that no usable Postgres programs are on the machine.
type NoBinariesError struct {
	PGBin    string // $PG_BIN, when it is set and holds none
	OldMajor int    // the newest version found, when all are too old; 0 when there are none
	Install  bool   // this machine has a package manager that [Install] knows
}

func (e *NoBinariesError) Error() string {
	what := "no PostgreSQL was found on this machine"
	switch {
	case e.PGBin != "":
		return fmt.Sprintf("PG_BIN is %s, but initdb, pg_ctl and postgres of version %d or newer are not there: correct it or unset it", e.PGBin, minMajor)
	case e.OldMajor != 0:
		what = fmt.Sprintf("the PostgreSQL on this machine is version %d and %d or newer is needed", e.OldMajor, minMajor)
	}
	if how := installCommands(); how != nil {
		return fmt.Sprintf("%s: install it with `%s`, or start one with `docker compose up -d` and name it in DATABASE_URL", what, how)
	}
	return what + ": install it, or start one with `docker compose up -d` and name it in DATABASE_URL"
}

// VersionError says that the data was made by another version of Postgres than any on the machine. The data is whole
// and left alone.
type VersionError struct {
	DataDir   string
	DataMajor int
	Found     []int // newest first
}

func (e *VersionError) Error() string {
	found := make([]string, len(e.Found))
	for i, major := range e.Found {
		found[i] = strconv.Itoa(major)
	}
	return fmt.Sprintf("the data in %s was made by PostgreSQL %d, but this machine has %s: install version %d beside it (your data is untouched), or bring the data over by a backup made where %d still runs",
		e.DataDir, e.DataMajor, strings.Join(found, ", "), e.DataMajor, e.DataMajor)
}

// usualPlaces are where the packagers of the systems we know put the server's programs. Debian and others keep them
// out of PATH, one directory a version.
var usualPlaces = []string{
	"/usr/lib/postgresql/*/bin",
	"/usr/pgsql-*/bin",
	"/usr/libexec/postgresql*",
	"/opt/homebrew/opt/postgresql*/bin",
	"/usr/local/opt/postgresql*/bin",
	"/usr/local/pgsql/bin",
	"/Applications/Postgres.app/Contents/Versions/*/bin",
}

// findTools picks the Postgres programs: those of $PG_BIN if it is set, else the newest that can read the data
// (dataMajor; 0 for no data yet, which any version may make).
func findTools(ctx context.Context, dataDir string, dataMajor int) (tools, error) {
	pgBin := os.Getenv("PG_BIN")
	var found []tools
	for _, dir := range places("postgres") {
		if t, ok := toolsIn(ctx, dir); ok {
			found = append(found, t)
		}
	}
	// A program that was cut off while telling its version is not missing.
	if err := ctx.Err(); err != nil {
		return tools{}, fmt.Errorf("look for PostgreSQL: %w", err)
	}
	slices.SortStableFunc(found, func(a, b tools) int { return cmp.Compare(b.major, a.major) })
	if len(found) == 0 {
		return tools{}, &NoBinariesError{PGBin: pgBin, Install: installCommands() != nil}
	}
	if dataMajor == 0 {
		if found[0].major < minMajor {
			return tools{}, &NoBinariesError{PGBin: pgBin, OldMajor: found[0].major, Install: installCommands() != nil}
		}
		return found[0], nil
	}
	var majors []int
	for _, t := range found {
		if t.major == dataMajor {
			return t, nil
		}
		majors = append(majors, t.major)
	}
	return tools{}, &VersionError{DataDir: dataDir, DataMajor: dataMajor, Found: slices.Compact(majors)}
}

var majorInVersion = regexp.MustCompile(`\(PostgreSQL\) (\d+)`)

// places are the directories in which one of Postgres's programs may be: $PG_BIN alone if it is set.
func places(program string) []string {
	if dir := os.Getenv("PG_BIN"); dir != "" {
		return []string{dir}
	}
	var dirs []string
	for _, pattern := range usualPlaces {
		matches, _ := filepath.Glob(pattern) // the only error is a bad pattern
		dirs = append(dirs, matches...)
	}
	if path, err := exec.LookPath(program); err == nil {
		dirs = append(dirs, filepath.Dir(path))
	}
	return dirs
}

// toolsIn asks the programs of a directory for their version. A directory without all three is no installation: client
// packages bring some of them.
func toolsIn(ctx context.Context, dir string) (tools, bool) {
	for _, name := range []string{"initdb", "pg_ctl", "postgres"} {
		if _, err := exec.LookPath(filepath.Join(dir, name)); err != nil {
			return tools{}, false
		}
	}
	major, ok := majorOf(ctx, filepath.Join(dir, "postgres"))
	return tools{dir: dir, major: major}, ok
}

func majorOf(ctx context.Context, program string) (int, bool) {
	out, err := exec.CommandContext(ctx, program, "--version").Output()
	if err != nil {
		return 0, false
	}
	m := majorInVersion.FindSubmatch(out)
	if m == nil {
		return 0, false
	}
	major, err := strconv.Atoi(string(m[1]))
	return major, err == nil
}

// ErrNoClient is what Client returns when the machine has no program that fits.
var ErrNoClient = errors.New("no PostgreSQL program of the server's version")

// Client finds one of Postgres's client programs (pg_dump, pg_restore) for a server of a version: of the same version,
// else the next newer one. An older program refuses a newer server, and a much newer one may not speak to an older.
func Client(ctx context.Context, program string, serverMajor int) (string, error) {
	best, bestMajor := "", 0
	for _, dir := range places(program) {
		path, err := exec.LookPath(filepath.Join(dir, program))
		if err != nil {
			continue
		}
		major, ok := majorOf(ctx, path)
		if ok && major >= serverMajor && (best == "" || major < bestMajor) {
			best, bestMajor = path, major
		}
	}
	if err := ctx.Err(); err != nil {
		return "", fmt.Errorf("find %s: %w", program, err)
	}
	if best == "" {
		return "", fmt.Errorf("find %s of version %d: %w", program, serverMajor, ErrNoClient)
	}
	return best, nil
}
