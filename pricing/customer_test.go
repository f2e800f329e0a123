package pricing

import (
	"context"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/calendar"
	"stead/migrations/testdb"
	"stead/substitution"
)

// hand corrects by a name.
func hand(by, why string) inventory.Hand { return inventory.Hand{By: by, Why: why, At: now} }

func TestCustomersAreFoundByWhatOneKnowsOfThem(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	book := func(c Customer, words, frame string) BookedIn {
		in, err := Book(t.Context(), w.tx, Booking{Customer: c, Bike: Bike{Words: words, FrameNumber: frame}}, now)
		require.NoError(t, err)
		return in
	}
	ines := book(Customer{Name: "Ines Falkner", Phone: "01632 960001"}, "blue touring bike", "FT 4471-K").Customer.ID
	teo := book(Customer{Name: "Teo Lindqvist", Email: "Teo@Example.org"}, "white single-speed", "").Customer.ID
	book(Customer{Name: "Teo Lindqvist"}, "grey cargo bike", "")
	for _, c := range []struct {
		name, text string
		want       []int64
	}{
		{"name", "falkner", []int64{ines}},
		{"both names, other way about", "Falkner Ines", []int64{ines}},
		{"telephone", "01632 960001", []int64{ines}},
		{"telephone with its country", "+44 1632 960001", []int64{ines}},
		{"end of the telephone", "960001", []int64{ines}},
		{"too short an end", "001", nil},
		{"e-mail", "teo@example.org", []int64{teo}},
		{"bike", "blue touring", []int64{ines}},
		{"frame number as one writes it", "ft4471k", []int64{ines}},
		{"name and bike", "lindqvist cargo", []int64{teo}},
		{"words of two bikes", "cargo single-speed", nil},
		{"a percent sign is no pattern", "%", nil},
		{"nobody", "nobody", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			found, err := FindCustomers(t.Context(), w.tx, c.text, 10)
			require.NoError(t, err)
			var ids []int64
			for _, f := range found {
				ids = append(ids, f.ID)
			}
			require.Equal(t, c.want, ids)
		})
	}
}

// Who comes again is the same customer with the same bike, as long as nothing said speaks against it.
func TestWhoComesAgain(t *testing.T) {
	ines := Customer{Name: "Ines Falkner", Phone: "01632 960001"}
	bike := Bike{Words: "blue touring bike", FrameNumber: "FT 4471-K"}
	for _, c := range []struct {
		name         string
		again        Booking
		same, bike   bool
		says         string
		phone, email string
	}{
		{name: "by name", again: Booking{Customer: Customer{Name: "ines falkner"}, Bike: Bike{Words: "Blue touring bike"}}, same: true, bike: true, phone: "01632 960001"},
		{name: "with what was not known", again: Booking{Customer: Customer{Name: "Ines Falkner", Email: "ines@example.org"}, Bike: Bike{Words: "blue touring bike"}}, same: true, bike: true, phone: "01632 960001", email: "ines@example.org"},
		{name: "the same telephone otherwise written", again: Booking{Customer: Customer{Name: "Ines Falkner", Phone: "+44 1632 960 001"}, Bike: Bike{Words: "blue touring bike"}}, same: true, bike: true, phone: "01632 960001"},
		{name: "another bike", again: Booking{Customer: Customer{Name: "Ines Falkner"}, Bike: Bike{Words: "red folder"}}, same: true, phone: "01632 960001"},
		{name: "the bike by its frame, called otherwise", again: Booking{Customer: Customer{Name: "Ines Falkner"}, Bike: Bike{Words: "the tourer", FrameNumber: "ft4471k"}}, same: true, bike: true, phone: "01632 960001"},
		{name: "another frame, called the same", again: Booking{Customer: Customer{Name: "Ines Falkner"}, Bike: Bike{Words: "blue touring bike", FrameNumber: "ZZ 1"}}, same: true, phone: "01632 960001"},
		{name: "another telephone", again: Booking{Customer: Customer{Name: "Ines Falkner", Phone: "01632 960444"}, Bike: bike}, says: "reached otherwise"},
		{name: "somebody new", again: Booking{Customer: Customer{Name: "Ines Falkner", Phone: "01632 960444"}, NewCustomer: true, Bike: bike}, phone: "01632 960444"},
		{name: "no name", again: Booking{Customer: Customer{Name: " "}, Bike: bike}, says: "needs a name"},
		{name: "no telephone", again: Booking{Customer: Customer{Name: "Ines Falkner", Phone: "ask Bo"}, Bike: bike}, says: "is no telephone number"},
		{name: "no e-mail", again: Booking{Customer: Customer{Name: "Ines Falkner", Email: "ines at home"}, Bike: bike}, says: "is no e-mail address"},
		{name: "another's bike", again: Booking{Customer: Customer{Name: "Teo Lindqvist"}, Bike: Bike{ID: -1}}, says: "there is no bike -1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWorkshop(t, testdb.Tx(t))
			first, err := Book(t.Context(), w.tx, Booking{Customer: ines, Bike: Bike{Words: bike.Words, FrameNumber: bike.FrameNumber, Build: substitution.Build{"chain": nil}}}, now)
			require.NoError(t, err)
			require.Empty(t, first.Before)
			if c.says != "" {
				says := w.refused(func(ctx context.Context, tx pgx.Tx) error { _, err := Book(ctx, tx, c.again, now); return err })
				require.Contains(t, says, c.says)
				return
			}
			again, err := Book(t.Context(), w.tx, c.again, now)
			require.NoError(t, err)
			require.Equal(t, c.same, first.Customer.ID == again.Customer.ID)
			require.Equal(t, c.bike, first.BikeID == again.BikeID)
			require.Equal(t, c.phone, again.Customer.Phone)
			require.Equal(t, c.email, again.Customer.Email)
			if c.bike {
				require.Len(t, again.Before, 1)
				require.Equal(t, first.JobID, again.Before[0].ID)
				require.Equal(t, 1, again.Known)
			}
		})
	}
}

// Two of one name are told apart by what is known of them, never guessed.
func TestTwoOfOneName(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	for _, c := range []Customer{{Name: "Ines Falkner", Phone: "01632 960001"}, {Name: "Ines Falkner"}} {
		_, err := Book(t.Context(), w.tx, Booking{Customer: c, NewCustomer: true, Bike: Bike{Words: "bike"}}, now)
		require.NoError(t, err)
	}
	says := w.refused(func(ctx context.Context, tx pgx.Tx) error {
		_, err := Book(ctx, tx, Booking{Customer: Customer{Name: "Ines Falkner"}, Bike: Bike{Words: "bike"}}, now)
		return err
	})
	require.Contains(t, says, "several customers are called Ines Falkner")
	in, err := Book(t.Context(), w.tx, Booking{Customer: Customer{Name: "Ines Falkner", Phone: "01632960001"}, Bike: Bike{Words: "bike"}}, now)
	require.NoError(t, err)
	require.Len(t, in.Before, 1)
}

func TestJobsByDayStateAndCustomer(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	wanted := today + 9
	first, err := Book(t.Context(), w.tx, Booking{Customer: Customer{Name: "Ines Falkner"}, Bike: Bike{Words: "tourer"}, WantedBy: &wanted}, now)
	require.NoError(t, err)
	second, err := Book(t.Context(), w.tx, Booking{Customer: Customer{Name: "Teo Lindqvist"}, Bike: Bike{Words: "folder"}}, now.Add(24*time.Hour))
	require.NoError(t, err)
	require.NoError(t, CancelJob(t.Context(), w.tx, second.JobID, "sold", now.Add(48*time.Hour)))
	day := func(d calendar.Day) *calendar.Day { return &d }
	for _, c := range []struct {
		name   string
		search JobSearch
		want   []int64
	}{
		{"not ended", JobSearch{}, []int64{first.JobID}},
		{"all", JobSearch{All: true}, []int64{first.JobID, second.JobID}},
		{"by state", JobSearch{State: Cancelled}, []int64{second.JobID}},
		{"wanted that day", JobSearch{Day: &wanted}, []int64{first.JobID}},
		{"booked in that day", JobSearch{Day: day(today + 1)}, []int64{second.JobID}},
		{"ended that day", JobSearch{Day: day(today + 2)}, []int64{second.JobID}},
		{"nothing that day", JobSearch{Day: day(today + 30)}, nil},
		{"of a customer", JobSearch{All: true, CustomerID: second.Customer.ID}, []int64{second.JobID}},
		{"of a bike, not ended", JobSearch{BikeID: second.BikeID}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			jobs, err := Jobs(t.Context(), w.tx, c.search)
			require.NoError(t, err)
			var ids []int64
			for _, j := range jobs {
				ids = append(ids, j.ID)
			}
			require.Equal(t, c.want, ids)
		})
	}
}

// A wish is told of when its part comes in, to whoever must be told, and not once it is somebody else's.
func TestAWishIsToldOfWhenItsPartComesIn(t *testing.T) {
	w := newWorkshop(t, testdb.Tx(t))
	job := w.bookIn(touringBike(t), Limits{})
	_, err := CorrectCustomer(t.Context(), w.tx, w.job(job).Bike.Customer.ID, hand("Otis", ""), func(c *Customer) { c.Phone = "01632 960001" })
	require.NoError(t, err)
	black := w.part("black ring", "chainring", blackRing, "42.00")
	wish, err := wishFor(w.job(job).Bike, Deviation{Difference: Difference{Place: "crank.outer-ring", Rule: "chainring.finish"}, Was: "black anodised alloy"})
	require.NoError(t, err)
	_, err = addWish(t.Context(), w.tx, wish)
	require.NoError(t, err)
	met := func() []Granted {
		g, err := WishesMetBy(t.Context(), w.tx, []int64{black.ID})
		require.NoError(t, err)
		return g
	}
	require.Empty(t, met(), "none on the shelf")
	w.shelve(black, 1)
	require.Len(t, met(), 1)
	require.Equal(t, "01632 960001", met()[0].Reach)
	in, err := Book(t.Context(), w.tx, Booking{Customer: Customer{Name: "Ines Falkner"}, Bike: Bike{Words: "blue touring bike"}}, now)
	require.NoError(t, err)
	require.Len(t, in.Wishes, 1)
	require.Len(t, in.Granted, 1, "and when the bike comes in")
}
