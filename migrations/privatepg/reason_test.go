package privatepg

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/migrations"
)

// The logs are those of PostgreSQL 15 on disks without room.
func TestReason(t *testing.T) {
	for name, c := range map[string]struct {
		log, says string
		full      bool
	}{
		"no room for its log": {full: true,
			log: `2026-11-29 10:25:15.046 UTC 57P03 FATAL:  the database system is not yet accepting connections
2026-11-29 10:25:15.046 UTC 57P03 DETAIL:  Consistent recovery state has not been yet reached.
2026-11-29 10:25:15.056 UTC 00000 LOG:  redo done at 0/25361F0
2026-11-29 10:25:15.058 UTC 53100 FATAL:  could not write to file "pg_wal/xlogtemp.23064": No space left on device
2026-11-29 10:25:15.078 UTC 00000 LOG:  startup process (PID 23064) exited with exit code 1
2026-11-29 10:25:15.078 UTC 00000 LOG:  terminating any other active server processes
2026-11-29 10:25:15.083 UTC 00000 LOG:  shutting down due to startup process failure
2026-11-29 10:25:15.120 UTC 00000 LOG:  database system is shut down
`,
			says: `2026-11-29 10:25:15.058 UTC 53100 FATAL:  could not write to file "pg_wal/xlogtemp.23064": No space left on device`},
		"no room at the first start": {full: true,
			log: `creating configuration files ... ok
running bootstrap script ... 2026-11-29 10:24:46.727 UTC [20775] FATAL:  could not extend file "base/1/2691": wrote only 4096 of 8192 bytes at block 20
2026-11-29 10:24:46.727 UTC [20775] HINT:  Check free disk space.
2026-11-29 10:24:46.727 UTC [20775] PANIC:  cannot abort transaction 1, it was already committed
Aborted
child process exited with exit code 134
initdb: removing contents of data directory "/tmp/s/data.new-2558092034"
`,
			says: `running bootstrap script ... 2026-11-29 10:24:46.727 UTC [20775] FATAL:  could not extend file "base/1/2691": wrote only 4096 of 8192 bytes at block 20; ` +
				`2026-11-29 10:24:46.727 UTC [20775] HINT:  Check free disk space.; 2026-11-29 10:24:46.727 UTC [20775] PANIC:  cannot abort transaction 1, it was already committed`},
		"a tool's own words": {log: "1\n2\n3\n4\npg_ctl: could not send stop signal\n", says: "2; 3; 4; pg_ctl: could not send stop signal"},
	} {
		t.Run(name, func(t *testing.T) {
			why := reason(c.log)
			require.Equal(t, c.says, why)
			require.Equal(t, c.full, errors.As(migrations.DiskFull(errors.New(why), "there"), new(*migrations.DiskFullError)))
		})
	}
}
