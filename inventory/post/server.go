package post

import (
	"context"
	"errors"
	"fmt"
	"net"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// Security is how the line to a server is kept from others.
type Security string

const (
	StartTLS Security = "starttls" // plain at first, then TLS or nothing; port 587 (RFC 6409, RFC 3207)
	TLS      Security = "tls"      // from the first byte; port 465 (RFC 8314)
	NoTLS    Security = "none"     // in the clear, to a server on this machine alone
)

// Server is the shop's own server for outgoing mail. Its password is kept elsewhere, never in the database.
type Server struct {
	Host     string   `json:"host"`
	Port     int      `json:"port"`
	Security Security `json:"security"`
	Account  string   `json:"account,omitempty"` // empty: it asks for no sign-in
	Sender   string   `json:"sender"`            // the address from which the shop writes
}

// ErrNoServer says that no server is set up.
var ErrNoServer = errors.New("no server for outgoing mail is set up here")

// ports are where servers listen by the standards.
var ports = map[Security]int{StartTLS: 587, TLS: 465, NoTLS: 25}

// check returns the server with what follows filled in, or says what is wrong.
func (s Server) check() (Server, error) {
	s.Host, s.Account = strings.ToLower(strings.TrimSpace(s.Host)), strings.TrimSpace(s.Account)
	if s.Security == "" {
		s.Security = StartTLS
	}
	usual, known := ports[s.Security]
	if !known {
		return s, fmt.Errorf("the line is kept safe by starttls or tls, or by none, not by %q", s.Security)
	}
	if s.Port == 0 {
		s.Port = usual
	}
	switch {
	case s.Host == "" || strings.ContainsAny(s.Host, " \t\r\n/@") || strings.Contains(s.Host, ":") && net.ParseIP(s.Host) == nil:
		return s, fmt.Errorf("%q is no server: give its name alone, such as mail.example, and the port beside it", s.Host)
	case s.Port < 1 || s.Port > 65535:
		return s, fmt.Errorf("a port is a number from 1 to 65535, not %d", s.Port)
	case s.Security == NoTLS && !onThisMachine(s.Host):
		return s, fmt.Errorf("mail to %s would go in the clear for anybody on the way to read: use starttls or tls", s.Host)
	case strings.ContainsAny(s.Account, "\r\n\x00"):
		return s, fmt.Errorf("the account %q has a line break in it", s.Account)
	}
	sender, err := Address{Mail: s.Sender}.check()
	if err != nil {
		return s, fmt.Errorf("the sender: %w", err)
	}
	s.Sender = sender.Mail
	return s, nil
}

func onThisMachine(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// SetServer sets the server up.
func SetServer(ctx context.Context, tx pgx.Tx, s Server) (Server, error) {
	s, err := s.check()
	if err != nil {
		return s, err
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO post_server (host, port, security, account, sender) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (only_one) DO UPDATE SET (host, port, security, account, sender) = (excluded.host, excluded.port, excluded.security, excluded.account, excluded.sender)`,
		s.Host, s.Port, s.Security, s.Account, s.Sender)
	if err != nil {
		return s, fmt.Errorf("set up the server for outgoing mail: %w", err)
	}
	return s, nil
}

// NoMoreServer takes the server away: nothing more is sent, and what waits goes on waiting.
func NoMoreServer(ctx context.Context, tx pgx.Tx) error {
	tag, err := tx.Exec(ctx, `DELETE FROM post_server`)
	if err != nil {
		return fmt.Errorf("take the server for outgoing mail away: %w", err)
	}
	if tag.RowsAffected() == 0 {
		return ErrNoServer
	}
	return nil
}

// LoadServer is the server; [ErrNoServer] where none is set up.
func LoadServer(ctx context.Context, db inventory.DB) (s Server, err error) {
	err = db.QueryRow(ctx, `SELECT host, port, security, account, sender FROM post_server`).Scan(&s.Host, &s.Port, &s.Security, &s.Account, &s.Sender)
	if errors.Is(err, pgx.ErrNoRows) {
		return Server{}, ErrNoServer
	}
	if err != nil {
		return Server{}, fmt.Errorf("read the server for outgoing mail: %w", err)
	}
	return s, nil
}
