// Package personal answers a customer who asks what the shop knows of them, and one who asks to be forgotten.
//
// Bills, credit notes and payments must be kept, and name whom they were written for. Everything else that says who
// somebody is goes: name, telephone and address, their words, their photos, what messages were sent to where, and the
// history's mention of them. A name that is short, or that somebody or something else goes by, is taken out of what
// concerned them alone. What was found and fitted stays without a name, for what the shop has learnt of parts. A trail
// says that it was done, by whom and when, and not what it was. Backups that were made before keep what they hold.
package personal

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/photo"
	"stead/inventory/post"
	"stead/pricing"
	"stead/pricing/billing"
)

// sections are what is kept of a customer, table by table: $1 is their number. Of a link to a quote its secret is not kept.
var sections = []struct{ name, sql string }{
	{"customer", `SELECT to_jsonb(c) FROM customer c WHERE id = $1`},
	{"bikes", `SELECT to_jsonb(b) FROM bike b WHERE customer_id = $1 ORDER BY id`},
	{"fitted", `SELECT to_jsonb(f) FROM fitted f JOIN bike b ON b.id = f.bike_id WHERE b.customer_id = $1 ORDER BY f.bike_id, f.place`},
	{"wishes", `SELECT to_jsonb(w) FROM wish w JOIN bike b ON b.id = w.bike_id WHERE b.customer_id = $1 ORDER BY w.id`},
	{"jobs", `SELECT to_jsonb(j) FROM job j JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY j.id`},
	{"findings", `SELECT to_jsonb(f) FROM finding f JOIN job j ON j.id = f.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY f.job_id, f.place`},
	{"readings", `SELECT to_jsonb(v) FROM visit v JOIN job j ON j.id = v.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY v.id`},
	{"notes", `SELECT to_jsonb(n) FROM job_note n JOIN job j ON j.id = n.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY n.id`},
	{"quotes", `SELECT to_jsonb(q) FROM quote q JOIN job j ON j.id = q.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY q.id`},
	{"answers", `SELECT to_jsonb(a) FROM approval a JOIN quote q ON q.id = a.quote_id JOIN job j ON j.id = q.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY q.id`},
	{"decisions", `SELECT to_jsonb(d) FROM decision d JOIN quote q ON q.id = d.quote_id JOIN job j ON j.id = q.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY q.id, d.place, d.rule`},
	{"why not", `SELECT to_jsonb(l) FROM quote_lost l JOIN quote q ON q.id = l.quote_id JOIN job j ON j.id = q.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY q.id`},
	{"questions", `SELECT to_jsonb(q) FROM question q JOIN job j ON j.id = q.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY q.id`},
	{"links", `SELECT to_jsonb(l) - 'hash' FROM quote_link l JOIN job j ON j.id = l.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY l.id`},
	{"bills", `SELECT l.document FROM bill l JOIN job j ON j.id = l.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY l.id`},
	{"payments", `SELECT to_jsonb(p) FROM payment p JOIN job j ON j.id = p.job_id JOIN bike b ON b.id = j.bike_id WHERE b.customer_id = $1 ORDER BY p.id`},
}

// Known is all that is kept of a customer.
type Known struct {
	Sections map[string]any    // by what they are called: "bikes", "quotes"
	Photos   map[string][]byte // JPEG by the name of a file
}

// Data gathers all that is kept of a customer, as of the moment that db sees. An unknown number is an
// *[inventory.UnknownError].
func Data(ctx context.Context, db inventory.DB, id int64) (Known, error) {
	if _, err := pricing.CustomerByID(ctx, db, id); err != nil {
		return Known{}, err
	}
	k := Known{map[string]any{}, map[string][]byte{}}
	for _, s := range sections {
		rows, err := db.Query(ctx, s.sql, id)
		if err != nil {
			return k, fmt.Errorf("gather the %s of customer %d: %w", s.name, id, err)
		}
		all, err := pgx.CollectRows(rows, pgx.RowTo[json.RawMessage])
		if err != nil {
			return k, fmt.Errorf("gather the %s of customer %d: %w", s.name, id, err)
		}
		k.Sections[s.name] = all
	}
	bikes, jobs, err := numbers(ctx, db, id)
	if err != nil {
		return k, err
	}
	var trail []inventory.Correction
	for of, ids := range map[inventory.Kind][]int64{inventory.OfCustomer: {id}, inventory.OfBike: bikes, inventory.OfJob: jobs} {
		for _, n := range ids {
			corrected, err := inventory.Corrections(ctx, db, of, n)
			if err != nil {
				return k, err
			}
			trail = append(trail, corrected...)
		}
	}
	k.Sections["corrections"] = trail
	var sent []post.Message
	for _, job := range jobs {
		messages, err := post.OfJob(ctx, db, job)
		if err != nil {
			return k, err
		}
		sent = append(sent, messages...)
	}
	k.Sections["messages"] = sent
	var photos []photo.Photo
	for _, bike := range bikes {
		of, err := photo.OfBike(ctx, db, bike)
		if err != nil {
			return k, err
		}
		for _, p := range of {
			if k.Photos[fmt.Sprintf("photo-%d.jpg", p.ID)], err = photo.JPEG(ctx, db, p.ID, false); err != nil {
				return k, err
			}
		}
		photos = append(photos, of...)
	}
	k.Sections["photos"] = photos
	return k, nil
}

// numbers are those of a customer's bikes and jobs.
func numbers(ctx context.Context, db inventory.DB, id int64) (bikes, jobs []int64, err error) {
	err = db.QueryRow(ctx, `
		SELECT coalesce(array_agg(DISTINCT b.id), '{}'), coalesce(array_agg(DISTINCT j.id) FILTER (WHERE j.id IS NOT NULL), '{}')
		FROM bike b LEFT JOIN job j ON j.bike_id = b.id WHERE b.customer_id = $1`, id).Scan(&bikes, &jobs)
	if err != nil {
		return nil, nil, fmt.Errorf("look for the bikes of customer %d: %w", id, err)
	}
	return bikes, jobs, nil
}

// OpenError says that a customer cannot be forgotten yet.
type OpenError struct {
	ID  int64
	Why string
}

func (e *OpenError) Error() string {
	return fmt.Sprintf("customer %d cannot be forgotten yet: %s", e.ID, e.Why)
}

// Forget forgets a customer as far as bills allow; the package says what goes and what stays. While a job of theirs is
// open, or something is to be paid, it is an *[OpenError].
func Forget(ctx context.Context, tx pgx.Tx, id int64, hand inventory.Hand, now time.Time) error {
	c, err := pricing.CustomerByID(ctx, tx, id)
	if err != nil {
		return err
	}
	if c.Name == inventory.Forgotten {
		return &inventory.NothingToCorrectError{Of: "customer", Number: id}
	}
	bikes, jobs, err := numbers(ctx, tx, id)
	if err != nil {
		return err
	}
	if err := inventory.Lock(ctx, tx, jobs, nil); err != nil {
		return err
	}
	if err := checkSettled(ctx, tx, id, jobs); err != nil {
		return err
	}
	named, err := names(ctx, tx, c, bikes)
	if err != nil {
		return err
	}
	for _, bike := range bikes {
		photos, err := photo.OfBike(ctx, tx, bike)
		if err != nil {
			return err
		}
		for _, p := range photos {
			if _, err := photo.TakeOff(ctx, tx, p.ID, inventory.Hand{By: hand.By, At: hand.At}); err != nil {
				return err
			}
		}
	}
	if err := post.Forget(ctx, tx, jobs, now); err != nil {
		return err
	}
	for of, ids := range map[inventory.Kind][]int64{inventory.OfCustomer: {id}, inventory.OfBike: bikes, inventory.OfJob: jobs} {
		if err := inventory.Forget(ctx, tx, of, ids); err != nil {
			return err
		}
	}
	for _, s := range []string{
		`UPDATE customer SET name = $4, phone = '', email = '', contact = '' WHERE id = $1`,
		`UPDATE bike SET words = $4, frame_number = '' WHERE id = ANY($2)`,
		`UPDATE job SET wish = '', ending = CASE WHEN ending ? 'why' THEN ending - 'why' ELSE ending END WHERE id = ANY($3)`,
		`DELETE FROM job_note WHERE job_id = ANY($3)`,
		`UPDATE finding SET document = document - 'note' WHERE job_id = ANY($3) AND document ? 'note'`,
		`UPDATE advice SET why = '' WHERE job_id = ANY($3)`,
		`UPDATE question SET words = $4, answer = CASE WHEN answer = '' THEN '' ELSE $4 END WHERE job_id = ANY($3)`,
		`DELETE FROM quote_lost WHERE because IS NULL AND quote_id IN (SELECT id FROM quote WHERE job_id = ANY($3))`,
		`UPDATE quote_lost SET words = '', note = '' WHERE quote_id IN (SELECT id FROM quote WHERE job_id = ANY($3))`,
		`UPDATE quote_link SET revoked_at = coalesce(revoked_at, now()) WHERE job_id = ANY($3)`,
		`UPDATE quote SET document = document || jsonb_build_object('customer', $4::text, 'bike', $4::text) WHERE job_id = ANY($3)`,
		`UPDATE approval SET by_whom = $4 WHERE quote_id IN (SELECT id FROM quote WHERE job_id = ANY($3))`,
		`UPDATE decision SET by_whom = $4 WHERE quote_id IN (SELECT id FROM quote WHERE job_id = ANY($3))`,
	} {
		// Each is given all four, whatever it names.
		if _, err := tx.Exec(ctx, `WITH given AS (SELECT $1::bigint, $2::bigint[], $3::bigint[], $4::text) `+s, id, bikes, jobs, inventory.Forgotten); err != nil {
			return fmt.Errorf("forget customer %d: %w", id, err)
		}
	}
	forgetting := inventory.Forgetting{Customers: []int64{id}, Bikes: bikes, Jobs: jobs, Words: named, Parts: partsOf(c.Name)}
	for _, word := range named {
		own, err := onlyTheirs(ctx, tx, word, id)
		if err != nil {
			return err
		}
		if own {
			forgetting.Anywhere = append(forgetting.Anywhere, word)
		}
	}
	if err := inventory.ForgetRequests(ctx, tx, forgetting); err != nil {
		return err
	}
	return inventory.Correct(ctx, tx, inventory.Hand{By: hand.By, At: hand.At}, inventory.OfCustomer, id, inventory.Change{What: "all but their bills", Was: "", Became: "forgotten"})
}

// checkSettled is an error while something is open between a customer and the shop.
func checkSettled(ctx context.Context, tx pgx.Tx, id int64, jobs []int64) error {
	for _, n := range jobs {
		job, err := pricing.JobByID(ctx, tx, n)
		if err != nil {
			return err
		}
		if job.State != pricing.Closed && job.State != pricing.Cancelled {
			return &OpenError{id, fmt.Sprintf("job %d is open; close it or give it up first", n)}
		}
		account, err := billing.AccountOfJob(ctx, tx, n)
		if err != nil {
			return err
		}
		if !account.Due.IsZero() {
			return &OpenError{id, fmt.Sprintf("%s of job %d is still to be paid, or paid back", account.Due.StringFixed(2), n)}
		}
	}
	return nil
}

// sharedBelow is the length, in letters, below which a word, such as a short name, may be of anything: it is looked for only
// in what concerned the customer. shortPart is that of parts of a name, which are looked for there alone.
const (
	sharedBelow = 6
	shortPart   = 3
)

// partsOf are the parts of a name of several words: “Falkner said so” names somebody too.
func partsOf(name string) (parts []string) {
	words := strings.Fields(name)
	if len(words) < 2 {
		return nil
	}
	for _, w := range words {
		if utf8.RuneCountInString(w) >= shortPart {
			parts = append(parts, w)
		}
	}
	return parts
}

// onlyTheirs reports whether a word is long enough to be somebody's own, and no other customer goes by it.
func onlyTheirs(ctx context.Context, tx pgx.Tx, word string, id int64) (own bool, err error) {
	if utf8.RuneCountInString(word) < sharedBelow {
		return false, nil
	}
	err = tx.QueryRow(ctx, `SELECT NOT EXISTS (SELECT FROM customer WHERE id <> $2 AND concat_ws(' ', name, phone, email, contact) ~ $1)`, "(?i)"+inventory.Whole(word), id).Scan(&own)
	if err != nil {
		return false, fmt.Errorf("look for who else goes by a name: %w", err)
	}
	return own, nil
}

// names are the words by which a customer and their bikes are known, now or before they were corrected.
func names(ctx context.Context, tx pgx.Tx, c pricing.Customer, bikes []int64) ([]string, error) {
	words := []string{c.Name, c.Phone, c.Email, c.Contact}
	for of, ids := range map[inventory.Kind][]int64{inventory.OfCustomer: {c.ID}, inventory.OfBike: bikes} {
		for _, id := range ids {
			trail, err := inventory.Corrections(ctx, tx, of, id)
			if err != nil {
				return nil, err
			}
			for _, t := range trail {
				if of == inventory.OfCustomer || t.What == "frame number" {
					words = append(words, t.Was, t.Became)
				}
			}
		}
	}
	rows, err := tx.Query(ctx, `SELECT frame_number FROM bike WHERE id = ANY($1) AND frame_number <> ''`, bikes)
	if err != nil {
		return nil, fmt.Errorf("look for the bikes of customer %d: %w", c.ID, err)
	}
	frames, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		return nil, fmt.Errorf("look for the bikes of customer %d: %w", c.ID, err)
	}
	words = append(words, frames...)
	// The longer first: a name may stand within an address.
	slices.SortFunc(words, func(a, b string) int { return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(a, b)) })
	words = slices.DeleteFunc(words, func(w string) bool { return strings.TrimSpace(w) == "" })
	return slices.Compact(words), nil
}
