package pricing

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/substitution"
)

// Customer is whose bike it is, and how to reach them.
type Customer struct {
	ID      int64  `json:"id"`
	Name    string `json:"name"`
	Phone   string `json:"phone,omitempty"`
	Email   string `json:"email,omitempty"`
	Contact string `json:"contact,omitempty"` // whatever else says how to reach them
}

// Reach is how to reach them, in one line; empty where nothing is known.
func (c Customer) Reach() string {
	var words []string
	for _, w := range []string{c.Phone, c.Email, c.Contact} {
		if w != "" {
			words = append(words, w)
		}
	}
	return strings.Join(words, ", ")
}

var (
	looksLikeEmail = regexp.MustCompile(`^[^@\s]+@[^@\s]+$`)
	looksLikePhone = regexp.MustCompile(`^[+(]?[0-9][0-9 ()/.-]{4,}$`)
)

// ReachedBy is the customer with one text of how to reach them, which says by its looks what it is: a telephone number, an
// address of electronic mail, or something else.
func (c Customer) ReachedBy(text string) Customer {
	switch text = strings.TrimSpace(text); {
	case looksLikeEmail.MatchString(text):
		c.Email = text
	case looksLikePhone.MatchString(text):
		c.Phone = text
	default:
		c.Contact = text
	}
	return c
}

// Check returns the customer without space around the words, or says what is wrong.
func (c Customer) Check() (Customer, error) {
	c.Name, c.Phone, c.Email, c.Contact = strings.TrimSpace(c.Name), strings.TrimSpace(c.Phone), strings.TrimSpace(c.Email), strings.TrimSpace(c.Contact)
	switch {
	case c.Name == "":
		return c, errors.New("a customer needs a name")
	case c.Email != "" && !looksLikeEmail.MatchString(c.Email):
		return c, fmt.Errorf("%q is no e-mail address: it has one @ and no spaces", c.Email)
	case c.Phone != "" && !looksLikePhone.MatchString(c.Phone):
		return c, fmt.Errorf("%q is no telephone number: write its figures, such as 01632 960001", c.Phone)
	}
	return c, nil
}

// AddCustomer puts a new customer on record.
func AddCustomer(ctx context.Context, tx pgx.Tx, c Customer) (Customer, error) {
	c, err := c.Check()
	if err != nil {
		return Customer{}, err
	}
	err = tx.QueryRow(ctx, `INSERT INTO customer (name, phone, email, contact) VALUES ($1, $2, $3, $4) RETURNING id`,
		c.Name, c.Phone, c.Email, c.Contact).Scan(&c.ID)
	if err != nil {
		return Customer{}, fmt.Errorf("booking in customer %q: %w", c.Name, err)
	}
	return c, nil
}

const customerColumns = `c.id, c.name, c.phone, c.email, c.contact`

func customers(ctx context.Context, db inventory.DB, rest string, args ...any) ([]Customer, error) {
	rows, err := db.Query(ctx, `SELECT `+customerColumns+` FROM customer c `+rest, args...)
	if err == nil {
		var list []Customer
		if list, err = pgx.CollectRows(rows, pgx.RowToStructByPos[Customer]); err == nil {
			return list, nil
		}
	}
	return nil, fmt.Errorf("looking for customers: %w", err)
}

// CustomerByID is a customer by number; an unknown one is an *[inventory.UnknownError].
func CustomerByID(ctx context.Context, db inventory.DB, id int64) (Customer, error) {
	list, err := customers(ctx, db, `WHERE c.id = $1`, id)
	if err == nil && len(list) == 0 {
		err = &inventory.UnknownError{Kind: inventory.OfCustomer, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return Customer{}, err
	}
	return list[0], nil
}

// CustomerNamed is the one customer that a text names: by number, or by whatever [FindCustomers] looks for. For none it is an
// *[inventory.UnknownError] with those who are spelt most like it, and for several an error that names them.
func CustomerNamed(ctx context.Context, db inventory.DB, text string) (Customer, error) {
	text = strings.TrimSpace(text)
	if id, err := strconv.ParseInt(text, 10, 64); err == nil && len(text) < 6 { // else a telephone number
		return CustomerByID(ctx, db, id)
	}
	found, err := FindCustomers(ctx, db, text, substitution.MostNamed+1)
	if err != nil {
		return Customer{}, err
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		near, err := CustomersSpeltLike(ctx, db, text)
		if err != nil {
			return Customer{}, err
		}
		return Customer{}, &inventory.UnknownError{Kind: inventory.OfCustomer, Name: text, Near: numberedNames(near)}
	}
	return Customer{}, fmt.Errorf("%q names several customers, %s: say which by the number", text, substitution.Few(numberedNames(found)))
}

// CustomersSpeltLike are those whose name has a word spelt nearly like the text: a letter lost in "falkner" leaves half
// of it.
func CustomersSpeltLike(ctx context.Context, db inventory.DB, text string) ([]Customer, error) {
	return customers(ctx, db, `WHERE word_similarity(lower($1), lower(c.name)) >= 0.45 ORDER BY word_similarity(lower($1), lower(c.name)) DESC, c.id LIMIT $2`, text, substitution.MostNamed)
}

func numberedNames(list []Customer) (names []string) {
	for _, c := range list {
		names = append(names, fmt.Sprintf("%d (%s)", c.ID, c.Name))
	}
	return names
}

// FindCustomers looks for customers by what one knows of them: each word of the text stands in their name, their e-mail
// address, or in the words or the frame number of one bike of theirs; or the text is their telephone number, with or without
// its country's, or an end of it of six figures or more. The newest first.
func FindCustomers(ctx context.Context, db inventory.DB, text string, most int) ([]Customer, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return nil, errors.New("say whom you look for: a name, a telephone number, an e-mail address, a bike or its frame number")
	}
	digits := figures(text)
	if len(digits) < 6 || strings.ContainsFunc(text, unicode.IsLetter) {
		digits = ""
	}
	return customers(ctx, db, `
		LEFT JOIN LATERAL (
			SELECT lower(c.name || ' ' || c.email || ' ' || c.contact) AS words UNION ALL
			SELECT lower(c.name || ' ' || c.email || ' ' || b.words || ' ' || b.frame_number || ' ' || frame_letters(b.frame_number)) FROM bike b WHERE b.customer_id = c.id
		) AS known ON true
		WHERE NOT EXISTS (SELECT FROM unnest($1::text[]) AS word WHERE strpos(known.words, word) = 0)
		   OR ($2 <> '' AND right(phone_digits(c.phone), length($2)) = $2)
		   OR frame_letters($3) <> '' AND EXISTS (SELECT FROM bike b WHERE b.customer_id = c.id AND b.frame_number <> '' AND frame_letters(b.frame_number) = frame_letters($3))
		GROUP BY c.id ORDER BY c.id DESC LIMIT $4`,
		strings.Fields(strings.ToLower(text)), lastFigures(digits), text, most)
}

// figures are the digits of a text.
func figures(text string) string {
	return strings.Map(func(r rune) rune {
		if r < '0' || r > '9' {
			return -1
		}
		return r
	}, text)
}

// lastFigures are as many of the digits of a telephone number as two spellings of it share: see phone_digits.
func lastFigures(digits string) string { return digits[max(0, len(digits)-9):] }

// CorrectCustomer changes what is on record of a customer and keeps the trail.
func CorrectCustomer(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand, change func(*Customer)) (Customer, error) {
	list, err := customers(ctx, tx, `WHERE c.id = $1 FOR NO KEY UPDATE`, id)
	if err != nil {
		return Customer{}, err
	}
	if len(list) == 0 {
		return Customer{}, &inventory.UnknownError{Kind: inventory.OfCustomer, Name: fmt.Sprint(id)}
	}
	was := list[0]
	is := was
	change(&is)
	if is, err = is.Check(); err != nil {
		return Customer{}, err
	}
	err = inventory.Correct(ctx, tx, hand, inventory.OfCustomer, id, inventory.Change{What: "name", Was: was.Name, Became: is.Name},
		inventory.Change{What: "phone", Was: was.Phone, Became: is.Phone}, inventory.Change{What: "e-mail", Was: was.Email, Became: is.Email},
		inventory.Change{What: "contact", Was: was.Contact, Became: is.Contact})
	if err != nil {
		return Customer{}, err
	}
	if _, err := tx.Exec(ctx, `UPDATE customer SET name = $2, phone = $3, email = $4, contact = $5 WHERE id = $1`, id, is.Name, is.Phone, is.Email, is.Contact); err != nil {
		return Customer{}, fmt.Errorf("correcting customer %d: %w", id, err)
	}
	return is, nil
}
