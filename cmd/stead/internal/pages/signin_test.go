package pages_test

import (
	"fmt"
	"net/http"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/people"
)

func TestSignIn(t *testing.T) {
	s := open(t)
	v := s.stranger()
	asked := v.get("/jobs/104")
	require.Equal(t, "/sign-in?next=%2Fjobs%2F104", asked.path)
	require.Contains(t, asked.text, "Any owner can give you another password")

	wrong := asked.form("sign-in").send(v, "name", mechanicName, "password", "not it at all")
	require.Equal(t, http.StatusUnauthorized, wrong.status)
	require.Contains(t, wrong.text, "do not go together")
	require.Equal(t, mechanicName, wrong.form("sign-in").values.Get("name"), "what was typed is kept")
	require.Empty(t, wrong.form("sign-in").values.Get("password"), "but for the password")

	in := wrong.form("sign-in").send(v, "password", password)
	require.Equal(t, "/jobs/104", in.path, "one goes on where one wanted to go")
	require.Contains(t, in.text, mechanicName)

	v.get("/hands").form("leave").send(v)
	require.Contains(t, v.get("/jobs/104").path, "/sign-in")
}

func TestSignInLeadsNowhereElse(t *testing.T) {
	s := open(t)
	for _, next := range []string{"https://elsewhere.example/", "//elsewhere.example/", `/\elsewhere.example`, "elsewhere"} {
		v := s.stranger()
		v.get("/sign-in").form("sign-in").send(v, "next", next, "name", ownerName, "password", password)
		require.Equal(t, "/", v.get("/").path, next)
	}
}

// What was typed into a page after the session had ended is there again once one has signed in.
func TestSignInAndGoOnWithWhatWasTyped(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	form := v.get("/book").form("book")
	_, err := s.db.Exec(t.Context(), `DELETE FROM sessions`)
	require.NoError(t, err)

	out := form.send(v, "customer", "Nils Aaberg", "bike", "old roadster", "wish", "It creaks.\nA lot.")
	require.Equal(t, http.StatusUnauthorized, out.status)
	require.Contains(t, out.text, "what you typed is kept")
	in := out.form("sign-in").send(v, "name", mechanicName, "password", password)
	require.Equal(t, "/book", in.path)
	again := in.form("book")
	require.Equal(t, "Nils Aaberg", again.values.Get("customer"))
	require.Equal(t, "It creaks.\nA lot.", again.values.Get("wish"))
	require.Equal(t, form.values.Get("key"), again.values.Get("key"), "it is the same request")
	require.Regexp(t, `^/jobs/\d+$`, again.send(v).path)
}

func TestThrottled(t *testing.T) {
	s := open(t)
	t.Run("an account", func(t *testing.T) {
		var wait sync.WaitGroup
		answers := make(chan int, 3*people.MostForAccount)
		for range cap(answers) { // all at once, so that none has failed when the last begins
			wait.Go(func() {
				v := s.stranger()
				answers <- v.get("/sign-in").form("sign-in").send(v, "name", mechanicName, "password", "guessed wrong").status
			})
		}
		wait.Wait()
		close(answers)
		tried := map[int]int{}
		for status := range answers {
			tried[status]++
		}
		require.Equal(t, map[int]int{http.StatusUnauthorized: people.MostForAccount, http.StatusTooManyRequests: 2 * people.MostForAccount}, tried)

		v := s.stranger()
		a := v.get("/sign-in").form("sign-in").send(v, "name", mechanicName, "password", password)
		require.Equal(t, http.StatusTooManyRequests, a.status, "not even with the right one")
		require.Contains(t, a.text, "too many wrong tries: try again at 09:41")
		require.Equal(t, "/", s.signsIn(ownerName).get("/").path, "others are let in")
		s.pass(people.Window)
		require.Equal(t, "/", s.signsIn(mechanicName).get("/").path)
	})
	t.Run("an address", func(t *testing.T) {
		v := s.stranger()
		for i := range people.MostForAddress {
			require.Equal(t, http.StatusUnauthorized, v.get("/sign-in").form("sign-in").send(v, "name", fmt.Sprint("guess ", i), "password", "guessed wrong").status)
		}
		require.Equal(t, http.StatusTooManyRequests, v.get("/sign-in").form("sign-in").send(v, "name", ownerName, "password", password).status)
	})
}

func TestChangeHands(t *testing.T) {
	s := open(t)
	v := s.as(ownerName)
	wrong := v.get("/hands").form("change").send(v, "name", mechanicName, "pin", "0000")
	require.Equal(t, http.StatusUnauthorized, wrong.status)
	v.get("/hands").form("change").send(v, "name", mechanicName, "pin", pin)
	require.Contains(t, v.get("/hands").text, "in the hands of "+mechanicName)

	set := v.get("/hands").form("pin").send(v, "password", "not mine at all", "pin", "1234")
	require.Equal(t, http.StatusUnprocessableEntity, set.status)
	require.Contains(t, set.text, "this is not your password")
	set = v.get("/hands").form("pin").send(v, "password", password, "pin", "12")
	require.Contains(t, set.text, "a PIN is 4 to 8 figures")
	set = v.get("/hands").form("pin").send(v, "password", password, "pin", "1357")
	require.Contains(t, set.text, "your PIN is set")
	v.get("/hands").form("change").send(v, "name", mechanicName, "pin", "1357")
	require.Contains(t, v.get("/hands").text, "in the hands of "+mechanicName)
}

// Somebody who works here no more is signed out everywhere.
func TestLeave(t *testing.T) {
	s := open(t)
	v := s.as(mechanicName)
	_, err := s.db.Exec(t.Context(), `UPDATE person SET left_at = now() WHERE name = $1`, mechanicName)
	require.NoError(t, err)
	require.Contains(t, v.get("/").path, "/sign-in")
	a := v.get("/sign-in").form("sign-in").send(v, "name", mechanicName, "password", password)
	require.Equal(t, http.StatusUnauthorized, a.status)
}

// An owner takes people on and lets them go; the hands that a PIN gives do not.
func TestPeople(t *testing.T) {
	s := open(t)
	v := s.as(ownerName)
	a := v.get("/people").form("add").send(v, "name", "Nia Soto", "password", "short")
	require.Equal(t, http.StatusUnprocessableEntity, a.status)
	require.Contains(t, a.text, "a password has at least 8 characters")
	a = a.form("add").send(v, "password", password)
	require.Contains(t, a.text, "Nia Soto may sign in")
	require.Equal(t, http.StatusOK, s.signsIn("nia  soto").get("/").status, "however the name is written")
	a = v.get("/people").form("add").send(v, "name", "NIA SOTO", "password", password)
	require.Equal(t, http.StatusUnprocessableEntity, a.status)

	var nia, jory string
	require.NoError(t, s.db.QueryRow(t.Context(), `SELECT (SELECT id::text FROM person WHERE name = 'Nia Soto'), (SELECT id::text FROM person WHERE name = $1)`, ownerName).Scan(&nia, &jory))
	a = v.get("/people").form("dismiss", nia).send(v)
	require.Contains(t, a.text, "Nia Soto works here no more")
	a = a.form("dismiss", jory).send(v)
	require.Contains(t, a.text, "the last owner cannot leave")

	v.get("/hands").form("pin").send(v, "password", password, "pin", "4711")
	v.get("/hands").form("change").send(v, "name", ownerName, "pin", "4711")
	require.Equal(t, http.StatusForbidden, v.get("/people").status, "a PIN gives a mechanic's hands only")
}
