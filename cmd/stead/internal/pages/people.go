package pages

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory/people"
)

// peoplePage is who works here, for the owner.
type peoplePage struct{ People []people.Person }

func showPeople(v *visit) (string, any, error) {
	all, err := people.All(v.ctx, v.db())
	return "People", peoplePage{all}, err
}

func addPerson(v *visit, t *typed) (string, error) {
	name := t.needed("name", "give the name to sign in by")
	role := people.Role(t.oneOf("role", string(people.Mechanic), string(people.Owner)))
	if role == "" {
		t.mark("role", "say what they may do")
	}
	password := t.secret("password")
	t.take("password", people.CheckPassword(password))
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done("/people", name+" may sign in", v.do("took on "+name, func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := people.Add(ctx, tx, name, role, password, "")
		return err
	}))
}

func dismissPerson(v *visit, t *typed) (string, error) {
	id := t.number64("row")
	if err := t.wrong(); err != nil {
		return "", err
	}
	p, found, err := people.ByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	if !found {
		return "", &statusError{409, "they work here no more already"}
	}
	return v.done("/people", fmt.Sprintf("%s works here no more, and is signed out everywhere", p.Name), v.do("said that "+p.Name+" works here no more", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return people.Leave(ctx, tx, id)
	}))
}

// newSecrets gives somebody another PIN or password: who has forgotten theirs cannot set it themselves.
func newSecrets(v *visit, t *typed) (string, error) {
	id, pin, password := t.number64("row"), t.secret("pin"), t.secret("password")
	if pin == "" && password == "" {
		t.mark("pin", "give a PIN, a password, or both")
	}
	if pin != "" {
		t.take("pin", people.CheckPIN(pin))
	}
	if password != "" {
		t.take("password", people.CheckPassword(password))
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	p, found, err := people.ByID(v.ctx, v.db(), id)
	if err != nil {
		return "", err
	}
	if !found {
		return "", &statusError{409, "they work here no more"}
	}
	return v.done("/people", "kept for "+p.Name, v.do("gave "+p.Name+" a new PIN or password", func(ctx context.Context, tx pgx.Tx, _ string) error {
		if pin != "" {
			if err := people.SetPIN(ctx, tx, id, pin); err != nil {
				return err
			}
		}
		if password == "" {
			return nil
		}
		return people.SetPassword(ctx, tx, id, password)
	}))
}
