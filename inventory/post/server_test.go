package post

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"log/slog"
	"math/big"
	"net"
	"net/mail"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

func TestMain(m *testing.M) { testdb.Main(m) }

var morning = time.Date(2026, 11, 30, 8, 0, 0, 0, time.UTC)

// python is Debian's, which has Debian's aiosmtpd.
const python = "/usr/bin/python3"

// witness is missing only where it may be.
func witness(t *testing.T) {
	t.Helper()
	if exec.CommandContext(t.Context(), python, "-c", "import aiosmtpd").Run() == nil {
		return
	}
	if os.Getenv("STEAD_CI") != "" {
		t.Fatal("aiosmtpd of Debian's python3-aiosmtpd is missing")
	}
	t.Skip("aiosmtpd of Debian's python3-aiosmtpd is missing, so there is no server to send to")
}

// mailServer is a server of the outside world on this machine: testdata/server.py.
type mailServer struct {
	t      *testing.T
	life   context.Context
	folder string
	extra  []string
	port   int
	ended  chan error
}

func startServer(t *testing.T, extra ...string) *mailServer {
	witness(t)
	s := &mailServer{t: t, life: t.Context(), folder: t.TempDir(), extra: extra}
	s.start()
	return s
}

// start starts it, again on the port that it had.
func (s *mailServer) start() {
	told := filepath.Join(s.folder, "port")
	_ = os.Remove(told) // of its life before
	cmd := exec.CommandContext(s.life, python, append([]string{"testdata/server.py", s.folder, strconv.Itoa(s.port)}, s.extra...)...)
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	require.NoError(s.t, cmd.Start())
	s.ended = make(chan error, 1)
	go func() { s.ended <- cmd.Wait() }()
	require.Eventually(s.t, func() bool {
		text, err := os.ReadFile(told)
		if err != nil {
			return false
		}
		s.port, err = strconv.Atoi(string(text))
		return err == nil
	}, time.Minute, 10*time.Millisecond, "the server has started")
}

// revive starts a server anew that has killed itself over what it was asked to take.
func (s *mailServer) revive() {
	<-s.ended
	s.start()
}

// forget makes a server new that has run before.
func (s *mailServer) forget() {
	for _, kind := range []string{"*.eml", "*.asked"} {
		files, err := filepath.Glob(filepath.Join(s.folder, kind))
		require.NoError(s.t, err)
		for _, f := range files {
			require.NoError(s.t, os.Remove(f))
		}
	}
}

// taken are the messages that it has taken for somebody, as they arrived.
func (s *mailServer) taken(to string) (letters []*mail.Message) {
	files, err := filepath.Glob(filepath.Join(s.folder, "*.eml"))
	require.NoError(s.t, err)
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(s.t, err)
		m, err := mail.ReadMessage(bytes.NewReader(text))
		require.NoError(s.t, err)
		if strings.Contains(m.Header.Get("To"), to) {
			letters = append(letters, m)
		}
	}
	return letters
}

// office is a shop with a server, a postman, and a clock that a test sets on.
type office struct {
	*Postman
	t   *testing.T
	now time.Time
}

func newOffice(t *testing.T, port int) *office {
	o := &office{t: t, now: morning}
	o.Postman = &Postman{DB: testdb.New(t), Now: func() time.Time { return o.now }, Log: slog.New(slog.DiscardHandler),
		Password: func(Server) (string, error) { return "", nil }, Bounds: patient}
	o.change(func(ctx context.Context, tx pgx.Tx) error {
		_, err := SetServer(ctx, tx, Server{Host: "127.0.0.1", Port: port, Security: NoTLS, Sender: "bench@tannery.example"})
		return err
	})
	return o
}

// patient is longer than any server of these tests takes that answers at all.
var patient = Bounds{Connect: time.Minute, Command: time.Minute, Take: time.Minute}

func (o *office) change(do func(ctx context.Context, tx pgx.Tx) error) {
	o.t.Helper()
	require.NoError(o.t, pgx.BeginFunc(o.t.Context(), o.DB, func(tx pgx.Tx) error { return do(o.t.Context(), tx) }))
}

func (o *office) queue(to string) (m Message) {
	o.t.Helper()
	o.change(func(ctx context.Context, tx pgx.Tx) (err error) {
		m, err = Queue(ctx, tx, Draft{What: "quote 1", From: "Tannery Yard", To: Address{Mail: to}, Subject: "Your bike", Text: "Hello."}, o.now)
		return err
	})
	return m
}

func (o *office) at(id int64) Message {
	o.t.Helper()
	m, err := numbered(o.t.Context(), o.DB, id)
	require.NoError(o.t, err)
	return m
}

// certificate writes a certificate for this machine, and gives who vouches for it.
func certificate(t *testing.T) (roots *x509.CertPool, cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	require.NoError(t, err)
	template := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "mail.example"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)},
		NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &private.PublicKey, private)
	require.NoError(t, err)
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	require.NoError(t, err)
	parsed, err := x509.ParseCertificate(der)
	require.NoError(t, err)
	roots = x509.NewCertPool()
	roots.AddCert(parsed)
	cert, key = filepath.Join(t.TempDir(), "cert.pem"), filepath.Join(t.TempDir(), "key.pem")
	require.NoError(t, os.WriteFile(cert, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}), 0o600))
	require.NoError(t, os.WriteFile(key, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), 0o600))
	return roots, cert, key
}

// closePool is for a postman of its own line to the database.
func closePool(t *testing.T, pool *pgxpool.Pool) *pgxpool.Pool {
	t.Helper()
	other, err := pgxpool.NewWithConfig(t.Context(), pool.Config())
	require.NoError(t, err)
	t.Cleanup(other.Close)
	return other
}
