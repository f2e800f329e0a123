package books

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"stead/inventory"
	"stead/inventory/exchange"
)

// About is what must agree for the rest to be understood: the layout of the tables, and the currency of their prices.
var About = exchange.Table{File: "about.csv", Columns: []string{"layout", "currency"}, Must: []string{"layout", "currency"}}

// layout is the one that is written and read here.
const layout = "1"

// Files are the names of all tables, in the order in which they are taken in.
var Files = []string{About.File, Customers.File, Bikes.File, Jobs.File, exchange.Suppliers.File, exchange.Parts.File, exchange.Codes.File, exchange.Movements.File, exchange.Stock.File,
	exchange.Shelf.File, exchange.Limits.File, exchange.Said.File, Bills.File, Payments.File}

// Export gives the shop's books, each table by the name of its file, all as of one moment: tx must see one. The same books
// are the same bytes.
func Export(ctx context.Context, tx pgx.Tx) (map[string][]byte, error) {
	shop, err := inventory.LoadShop(ctx, tx)
	if err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, t := range []struct {
		exchange.Table
		lines func(context.Context, inventory.DB) ([][]string, error)
	}{
		{About, func(context.Context, inventory.DB) ([][]string, error) {
			return [][]string{{layout, shop.Currency}}, nil
		}},
		{Customers, writeCustomers}, {Bikes, writeBikes}, {Jobs, writeJobs}, {exchange.Suppliers, exchange.WriteSuppliers},
		{exchange.Parts, exchange.WriteParts}, {exchange.Codes, exchange.WriteCodes}, {exchange.Movements, exchange.WriteMovements}, {exchange.Stock, exchange.WriteStock},
		{exchange.Shelf, exchange.WriteShelf}, {exchange.Limits, exchange.WriteLimits}, {exchange.Said, exchange.WriteSaid}, {Bills, writeBills}, {Payments, writePayments},
	} {
		rows, err := t.lines(ctx, tx)
		if err != nil {
			return nil, err
		}
		var out bytes.Buffer
		if err := t.Write(&out, rows); err != nil {
			return nil, err
		}
		files[t.File] = out.Bytes()
	}
	return files, nil
}

// Taken says what was taken in.
type Taken struct {
	Anew      bool `json:"into_an_empty_shop"`
	Customers int  `json:"customers"` // those of them that were not there
	Bikes     int  `json:"bikes"`
	Jobs      int  `json:"jobs"`
	Suppliers int  `json:"suppliers"`
	Parts     int  `json:"parts"`
	Codes     int  `json:"codes"`
	Movements int  `json:"movements"`
	Limits    int  `json:"shelf_limits"`
	Said      int  `json:"said_of_the_shelf"`
	Bills     int  `json:"bills"`
	Payments  int  `json:"payments"`
}

// added are the files that can be taken in by a shop that has begun.
var added = []string{Customers.File, Bikes.File, exchange.Suppliers.File, exchange.Parts.File, exchange.Codes.File}

// BegunError says that files cannot be taken in because the shop's own books have begun.
type BegunError struct{ Files []string }

func (e *BegunError) Error() string {
	return fmt.Sprintf("the books have begun here, so %s cannot be taken in: into a running shop only %s and %s can",
		strings.Join(e.Files, ", "), strings.Join(added[:len(added)-1], ", "), added[len(added)-1])
}

// Import takes tables in, by the names of their files. A file that is not there is an empty table. What is wrong is an
// *[exchange.WrongError], which names file, line and field; then tx is rolled back.
func Import(ctx context.Context, tx pgx.Tx, request string, files map[string]io.Reader, now time.Time) (Taken, error) {
	for name := range maps.Keys(files) {
		if !slices.Contains(Files, name) {
			return Taken{}, &exchange.WrongError{File: name, Says: "is no table of these: they are " + strings.Join(Files, ", ")}
		}
	}
	if len(files) == 0 {
		return Taken{}, &exchange.WrongError{File: "nothing", Says: "there is no table to take in: they are " + strings.Join(Files, ", ")}
	}
	rows := map[string][]*exchange.Row{}
	for _, t := range []exchange.Table{About, Customers, Bikes, Jobs, exchange.Suppliers, exchange.Parts, exchange.Codes, exchange.Movements, exchange.Stock,
		exchange.Shelf, exchange.Limits, exchange.Said, Bills, Payments} {
		if in, there := files[t.File]; there {
			read, err := t.Read(in)
			if err != nil {
				return Taken{}, err
			}
			rows[t.File] = read
		}
	}
	if err := checkAgrees(ctx, tx, rows[About.File]); err != nil {
		return Taken{}, err
	}
	// Two at once would each find the shop empty.
	if _, err := tx.Exec(ctx, `LOCK TABLE customer, job, bill IN SHARE ROW EXCLUSIVE MODE`); err != nil {
		return Taken{}, fmt.Errorf("take in the books: %w", err)
	}
	begun, err := hasBegun(ctx, tx)
	if err != nil {
		return Taken{}, err
	}
	if begun {
		return add(ctx, tx, rows, now)
	}
	return anew(ctx, tx, request, rows, now)
}

// checkAgrees checks the layout and the currency, where they are told.
func checkAgrees(ctx context.Context, tx pgx.Tx, rows []*exchange.Row) error {
	shop, err := inventory.LoadShop(ctx, tx)
	if err != nil {
		return err
	}
	for _, r := range rows {
		switch {
		case r.Text("layout") != layout:
			r.Refuse("layout", "is %q, and here it is %s", r.Text("layout"), layout)
		case !strings.EqualFold(r.Text("currency"), shop.Currency):
			r.Refuse("currency", "is %s, and the shop here reckons in %s: set the shop's currency first", r.Text("currency"), shop.Currency)
		}
		if err := r.Wrong(); err != nil {
			return err
		}
	}
	return nil
}

func hasBegun(ctx context.Context, tx pgx.Tx) (bool, error) {
	parts, movements, err := exchange.Begun(ctx, tx)
	if err != nil {
		return false, err
	}
	var others int
	if err := tx.QueryRow(ctx, `SELECT (SELECT count(*) FROM customer) + (SELECT count(*) FROM job) + (SELECT count(*) FROM bill) + (SELECT count(*) FROM payment)`).Scan(&others); err != nil {
		return false, fmt.Errorf("ask what is in the books: %w", err)
	}
	return parts+movements+others > 0, nil
}

func anew(ctx context.Context, tx pgx.Tx, request string, rows map[string][]*exchange.Row, now time.Time) (Taken, error) {
	jobs, err := takePeople(ctx, tx, rows[Customers.File], rows[Bikes.File], rows[Jobs.File], now)
	if err != nil {
		return Taken{}, err
	}
	suppliers, err := exchange.TakeSuppliers(ctx, tx, rows[exchange.Suppliers.File])
	if err != nil {
		return Taken{}, err
	}
	parts, err := exchange.TakeParts(ctx, tx, rows[exchange.Parts.File])
	if err != nil {
		return Taken{}, err
	}
	if err := exchange.TakeCodes(ctx, tx, rows[exchange.Codes.File], parts, now); err != nil {
		return Taken{}, err
	}
	if err := exchange.TakeMovements(ctx, tx, request, rows[exchange.Movements.File], jobs, now); err != nil {
		return Taken{}, err
	}
	if _, told := rows[exchange.Stock.File]; told {
		if err := exchange.TakeStock(ctx, tx, request, rows[exchange.Stock.File], len(rows[exchange.Movements.File]) > 0); err != nil {
			return Taken{}, err
		}
	}
	if err := takeShelf(ctx, tx, rows, parts, now); err != nil {
		return Taken{}, err
	}
	bills, err := takeBills(ctx, tx, rows[Bills.File], jobs, now)
	if err != nil {
		return Taken{}, err
	}
	if err := takePayments(ctx, tx, rows[Payments.File], jobs, bills, now); err != nil {
		return Taken{}, err
	}
	n := func(t exchange.Table) int { return len(rows[t.File]) }
	return Taken{true, n(Customers), n(Bikes), n(Jobs), suppliers, n(exchange.Parts), n(exchange.Codes), n(exchange.Movements), n(exchange.Limits), n(exchange.Said), n(Bills), n(Payments)}, nil
}

// takeShelf takes in what is wanted of the shelf, what it can hold, and what was said of parts.
func takeShelf(ctx context.Context, tx pgx.Tx, rows map[string][]*exchange.Row, parts map[int64]int64, now time.Time) error {
	if err := exchange.TakeShelf(ctx, tx, rows[exchange.Shelf.File]); err != nil {
		return err
	}
	if err := exchange.TakeLimits(ctx, tx, rows[exchange.Limits.File], parts); err != nil {
		return err
	}
	return exchange.TakeSaid(ctx, tx, rows[exchange.Said.File], parts, now)
}

func add(ctx context.Context, tx pgx.Tx, rows map[string][]*exchange.Row, now time.Time) (t Taken, err error) {
	var refused []string
	for _, name := range Files {
		if name != About.File && !slices.Contains(added, name) && len(rows[name]) > 0 {
			refused = append(refused, name)
		}
	}
	if len(refused) > 0 {
		return t, &BegunError{refused}
	}
	if t.Customers, t.Bikes, err = addPeople(ctx, tx, rows[Customers.File], rows[Bikes.File]); err != nil {
		return t, err
	}
	if t.Suppliers, err = exchange.TakeSuppliers(ctx, tx, rows[exchange.Suppliers.File]); err != nil {
		return t, err
	}
	parts, n, err := exchange.AddParts(ctx, tx, rows[exchange.Parts.File])
	if err != nil {
		return t, err
	}
	t.Parts = n
	t.Codes, err = exchange.AddCodes(ctx, tx, rows[exchange.Codes.File], parts, now)
	return t, err
}
