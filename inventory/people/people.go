// Package people knows who works in the shop: by name, with a password, and with a PIN for changing hands on a tablet
// that somebody has signed in on. An owner may do everything; a mechanic everything but the settings.
//
// Passwords and PINs are kept as argon2id. Who guesses is slowed down by account and by address: see [SignIn].
package people

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"
	"github.com/jackc/pgx/v5"

	"stead/inventory"
)

// Role is what somebody may do.
type Role string

const (
	Owner    Role = "owner"
	Mechanic Role = "mechanic"
)

// Person is somebody who works in the shop.
type Person struct {
	ID     int64  `json:"id"`
	Name   string `json:"name"`
	Role   Role   `json:"role"`
	HasPIN bool   `json:"has_pin"`
}

// cost of a hash: the second of the parameter sets that the OWASP Password Storage Cheat Sheet calls equal (19 MiB, two
// passes, one lane). It is paid once a sign-in.
var cost = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// The bounds of a password are those of NIST SP 800-63B, 5.1.1.2: at least 8 characters, nothing else asked of them, and
// room for 64 and more.
const (
	shortestPassword, longestPassword = 8, 200
	shortestPIN, longestPIN           = 4, 8
	longestName                       = 60
)

// Add takes somebody on. The first person must be an owner; a PIN may be empty.
func Add(ctx context.Context, tx pgx.Tx, name string, role Role, password, pin string) (Person, error) {
	name = strings.Join(strings.Fields(name), " ")
	switch {
	case name == "":
		return Person{}, errors.New("a person needs a name to sign in by")
	case utf8.RuneCountInString(name) > longestName:
		return Person{}, fmt.Errorf("a name to sign in by has at most %d characters", longestName)
	case role != Owner && role != Mechanic:
		return Person{}, fmt.Errorf("a person is an owner or a mechanic, not %q", role)
	}
	hash, err := hashed(password, CheckPassword)
	if err != nil {
		return Person{}, err
	}
	pinHash := ""
	if pin != "" {
		if pinHash, err = hashed(pin, CheckPIN); err != nil {
			return Person{}, err
		}
	}
	all, err := All(ctx, tx)
	if err != nil {
		return Person{}, err
	}
	if len(all) == 0 && role != Owner {
		return Person{}, errors.New("the first person must be an owner: nobody else can change the settings")
	}
	for _, p := range all {
		if strings.EqualFold(p.Name, name) {
			return Person{}, &inventory.TakenError{What: "the name", Value: name, By: "somebody who works here"}
		}
	}
	p := Person{Name: name, Role: role, HasPIN: pin != ""}
	err = tx.QueryRow(ctx, `INSERT INTO person (name, role, password, pin) VALUES ($1, $2, $3, $4) RETURNING id`, name, role, hash, pinHash).Scan(&p.ID)
	if err != nil {
		return Person{}, fmt.Errorf("take on %s: %w", name, err)
	}
	return p, nil
}

// All are the people who work here, by name.
func All(ctx context.Context, db inventory.DB) ([]Person, error) {
	rows, err := db.Query(ctx, `SELECT id, name, role, pin <> '' FROM person WHERE left_at IS NULL ORDER BY lower(name)`)
	if err != nil {
		return nil, fmt.Errorf("read who works here: %w", err)
	}
	all, err := pgx.CollectRows(rows, pgx.RowToStructByPos[Person])
	if err != nil {
		return nil, fmt.Errorf("read who works here: %w", err)
	}
	return all, nil
}

// ByID finds somebody who works here; found is false for somebody who does not, or does no more.
func ByID(ctx context.Context, db inventory.DB, id int64) (p Person, found bool, err error) {
	return one(ctx, db, `id = $1`, id)
}

// Named finds somebody who works here by name, however it is written, large or small.
func Named(ctx context.Context, db inventory.DB, name string) (Person, error) {
	p, found, err := one(ctx, db, `lower(name) = lower($1)`, strings.Join(strings.Fields(name), " "))
	if err == nil && !found {
		err = &inventory.UnknownError{Kind: inventory.OfPerson, Name: name}
	}
	return p, err
}

// UnnamedError says that several people work here and that it was not said which of them does something.
type UnnamedError struct{ Names []string }

func (e *UnnamedError) Error() string {
	return fmt.Sprintf("it is not said who does this: %s work here", strings.Join(e.Names, ", "))
}

// Acting is the name of whoever does something: the one named, else the one whose login it is, else the only one who works
// here. A name that is nobody's is an *[inventory.UnknownError], and where none of these tells an *[UnnamedError]. Where the
// shop has recorded nobody yet, any name will do.
func Acting(ctx context.Context, db inventory.DB, name, login string) (string, error) {
	all, err := All(ctx, db)
	if err != nil {
		return "", err
	}
	name = strings.Join(strings.Fields(name), " ")
	names := make([]string, len(all))
	for i, p := range all {
		names[i] = p.Name
		if strings.EqualFold(p.Name, name) || name == "" && strings.EqualFold(p.Name, login) {
			return p.Name, nil
		}
	}
	switch {
	case len(all) == 0 && cmp.Or(name, login) == "":
		return "somebody", nil
	case len(all) == 0:
		return cmp.Or(name, login), nil
	case name != "":
		return "", &inventory.UnknownError{Kind: inventory.OfPerson, Name: name, Near: names}
	case len(all) == 1:
		return names[0], nil
	}
	return "", &UnnamedError{names}
}

func one(ctx context.Context, db inventory.DB, which string, arg any) (p Person, found bool, err error) {
	err = db.QueryRow(ctx, `SELECT id, name, role, pin <> '' FROM person WHERE left_at IS NULL AND `+which, arg).Scan(&p.ID, &p.Name, &p.Role, &p.HasPIN)
	if errors.Is(err, pgx.ErrNoRows) {
		return Person{}, false, nil
	}
	if err != nil {
		return Person{}, false, fmt.Errorf("read who works here: %w", err)
	}
	return p, true, nil
}

// SetPassword gives somebody another password.
func SetPassword(ctx context.Context, tx pgx.Tx, id int64, password string) error {
	hash, err := hashed(password, CheckPassword)
	if err != nil {
		return err
	}
	return set(ctx, tx, `UPDATE person SET password = $2 WHERE id = $1 AND left_at IS NULL`, id, hash)
}

// SetPIN gives somebody another PIN; an empty one takes it away.
func SetPIN(ctx context.Context, tx pgx.Tx, id int64, pin string) error {
	hash := ""
	if pin != "" {
		var err error
		if hash, err = hashed(pin, CheckPIN); err != nil {
			return err
		}
	}
	return set(ctx, tx, `UPDATE person SET pin = $2 WHERE id = $1 AND left_at IS NULL`, id, hash)
}

// Leave says that somebody works here no more: they are signed out everywhere. What they did keeps their name. The last
// owner stays.
func Leave(ctx context.Context, tx pgx.Tx, id int64) error {
	if _, err := tx.Exec(ctx, `LOCK TABLE person IN SHARE ROW EXCLUSIVE MODE`); err != nil { // two owners may go at once
		return fmt.Errorf("read who works here: %w", err)
	}
	all, err := All(ctx, tx)
	if err != nil {
		return err
	}
	owners, isOwner := 0, false
	for _, p := range all {
		if p.Role == Owner {
			owners++
			isOwner = isOwner || p.ID == id
		}
	}
	if isOwner && owners == 1 {
		return errors.New("the last owner cannot leave: nobody else could change the settings")
	}
	return set(ctx, tx, `UPDATE person SET left_at = shop_clock() WHERE id = $1 AND left_at IS NULL`, id)
}

func set(ctx context.Context, tx pgx.Tx, sql string, args ...any) error {
	tag, err := tx.Exec(ctx, sql, args...)
	if err != nil {
		return fmt.Errorf("change who works here: %w", err)
	}
	if tag.RowsAffected() == 0 {
		return &inventory.UnknownError{Kind: inventory.OfPerson, Name: fmt.Sprint(args[0])}
	}
	return nil
}

// CheckPassword says what is wrong with a password, if anything is.
func CheckPassword(password string) error {
	switch n := utf8.RuneCountInString(password); {
	case n < shortestPassword:
		return fmt.Errorf("a password has at least %d characters: a few words are good", shortestPassword)
	case n > longestPassword:
		return fmt.Errorf("a password has at most %d characters", longestPassword)
	}
	return nil
}

// CheckPIN says what is wrong with a PIN, if anything is.
func CheckPIN(pin string) error {
	if n := len(pin); n < shortestPIN || n > longestPIN || strings.ContainsFunc(pin, func(r rune) bool { return !unicode.IsDigit(r) || r > '9' }) {
		return fmt.Errorf("a PIN is %d to %d figures", shortestPIN, longestPIN)
	}
	return nil
}

func hashed(secret string, check func(string) error) (string, error) {
	if err := check(secret); err != nil {
		return "", err
	}
	hashing <- struct{}{}
	defer func() { <-hashing }()
	hash, err := argon2id.CreateHash(secret, cost)
	if err != nil {
		return "", fmt.Errorf("make a hash: %w", err)
	}
	return hash, nil
}
