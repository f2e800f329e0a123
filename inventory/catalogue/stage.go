package catalogue

import (
	"context"
	"encoding/json"
	"fmt"
	"iter"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"stead/inventory/pricelist"
	"stead/substitution"
)

// stage is the way of rows into the catalogue: they are copied into a table of the transaction's own, matched with what is
// known, and written with a few statements over all of them.
type stage struct {
	supplierID int64
	asOf       time.Time
	reader     Reader
	forgotten  bool  // what a person had said of the lines is taken back: what is no part without it waits again
	loadID     int64 // of the load that can be taken back; 0 for lines that are only read again
	lines      *lineNumbers
	taxIn      decimal.Decimal // per cent that is taken out of the prices
}

var stagedColumns = []string{"line", "good", "code", "name", "brand", "maker_code", "gtin", "price", "retail", "pack", "minimum", "stock", "family", "dims", "origins",
	"unread", "waits", "other", "from_packs", "for_many", "due_on"}

// fill copies the rows to the stage, each description read.
func (st stage) fill(ctx context.Context, tx pgx.Tx, rows iter.Seq2[pricelist.Row, error]) error {
	_, err := tx.Exec(ctx, `
		DROP TABLE IF EXISTS pg_temp.staged, pg_temp.matched;
		CREATE TEMP TABLE staged (
		    line int, good boolean, code text, name text, brand text, maker_code text, gtin text, price numeric(12,4), retail numeric(12,4),
		    pack int, minimum int, stock text, family text, dims jsonb, origins jsonb, unread text[], waits text, other boolean, from_packs int[], for_many numeric[], due_on date
		) ON COMMIT DROP`)
	if err != nil {
		return fmt.Errorf("make the stage: %w", err)
	}
	next, stop := iter.Pull2(rows)
	defer stop()
	_, err = tx.CopyFrom(ctx, pgx.Identifier{"staged"}, stagedColumns, pgx.CopyFromFunc(func() ([]any, error) {
		row, err, ok := next()
		if !ok || err != nil {
			return nil, err
		}
		return st.cells(row)
	}))
	if err != nil {
		return fmt.Errorf("copy the rows: %w", err)
	}
	if _, err := tx.Exec(ctx, `CREATE INDEX ON staged (code); ANALYZE staged`); err != nil {
		return fmt.Errorf("index the rows: %w", err)
	}
	return nil
}

// cells are one row's values in the order of stagedColumns.
func (st stage) cells(row pricelist.Row) ([]any, error) {
	if !row.Good() { // only its code counts: it is in the list, so it is not gone
		return []any{st.lines.of(row), false, row.Code, "", "", "", nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil, nil}, nil
	}
	l := st.reader.Line(row)
	spec := l.spec()
	dims, err := json.Marshal(spec.Values())
	if err != nil {
		return nil, fmt.Errorf("line %d: %w", row.Line, err)
	}
	var from []int // nil, and so NULL, where the list has no prices for many
	var prices []decimal.Decimal
	if l.Breaks != nil {
		from, prices = []int{}, []decimal.Decimal{}
	}
	for _, b := range l.Breaks {
		from, prices = append(from, b.FromPacks), append(prices, b.Price)
	}
	return []any{st.lines.of(row), true, row.Code, row.Name, row.Brand, row.MakerCode, absent(row.GTIN), l.Price, l.Retail, l.Pack, max(row.Minimum, 1),
		string(row.Stock), absent(string(l.family())), dims, origins(spec), lowered(l.Read.Unread), absent(l.waits()), l.Read.Other != "", from, prices, row.Due}, nil
}

func absent(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// origins are those of a spec whose every dimension is from the supplier's text.
func origins(spec substitution.Spec) []byte {
	var b strings.Builder
	b.WriteByte('{')
	for i, name := range spec.Names() {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "%q:%q", name, spec[name].Origin)
	}
	b.WriteByte('}')
	return []byte(b.String())
}

// lowered are the unread words in lower case, so that one answer serves for "RS-7" and "rs-7".
func lowered(words []string) []string {
	out := make([]string, 0, len(words))
	for _, w := range words {
		if w = strings.ToLower(strings.Join(strings.Fields(w), " ")); w != "" && len(w) <= 80 {
			out = append(out, w)
		}
	}
	return out
}

// apply writes what is on the stage. With whole, the stage is a supplier's whole list, and what is not on it is gone.
func (st stage) apply(ctx context.Context, tx pgx.Tx, jumpPercent int, whole bool) (Summary, error) {
	var s Summary
	for _, step := range []func(context.Context, pgx.Tx, *Summary) error{
		st.sayOnce, st.refuseTwice, st.dropShared, st.match, st.part, st.jumps(jumpPercent), st.taxGone, st.rememberParts, st.mendParts, st.addParts, st.fillParts, st.putOffers, st.putPrices,
		st.putRetail, st.keepWaiting, st.keepUnread, st.against,
	} {
		if err := step(ctx, tx, &s); err != nil {
			return Summary{}, err
		}
	}
	if whole {
		if err := st.markGone(ctx, tx, &s); err != nil {
			return Summary{}, err
		}
	}
	for i := range s.Bad {
		s.Bad[i].Sheet, s.Bad[i].Line = st.lines.place(s.Bad[i].Line)
	}
	return s, nil
}

// sayOnce lets go of what is printed twice, and of what several sheets say alike: a part that is on the sheet of its kind and on
// that of the news.
func (st stage) sayOnce(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		DELETE FROM staged again USING staged was
		WHERE again.code = was.code AND again.line > was.line AND again.good AND was.good AND again.price = was.price AND again.name = was.name
		  AND (again.pack, again.minimum, again.gtin, again.from_packs, again.for_many) IS NOT DISTINCT FROM (was.pack, was.minimum, was.gtin, was.from_packs, was.for_many)`)
	if err != nil {
		return fmt.Errorf("look for what is printed twice: %w", err)
	}
	for _, s := range st.lines.sheets[min(1, len(st.lines.sheets)):] {
		_, err := tx.Exec(ctx, `
			DELETE FROM staged again USING staged was
			WHERE again.line > $1 AND was.line <= $1 AND again.good AND was.good AND again.code = was.code
			  AND (again.price, again.pack) = (was.price, was.pack)
			  AND (lower(again.name) = lower(was.name) OR (again.family, again.dims) = (was.family, was.dims))`, s.before)
		if err != nil {
			return fmt.Errorf("look for what two sheets say alike: %w", err)
		}
	}
	return nil
}

// refuseTwice refuses codes that stand in the list twice.
func (st stage) refuseTwice(ctx context.Context, tx pgx.Tx, s *Summary) error {
	rows, err := tx.Query(ctx, `SELECT code, array_agg(line ORDER BY line) FROM staged WHERE good GROUP BY code HAVING count(*) > 1 ORDER BY min(line)`)
	if err != nil {
		return fmt.Errorf("look for codes that stand twice: %w", err)
	}
	var code string
	var lines []int
	_, err = pgx.ForEachRow(rows, []any{&code, &lines}, func() error {
		s.Refused += len(lines)
		for _, line := range lines[1:] {
			s.Bad = append(s.Bad, pricelist.Problem{Line: line, Grave: true, Says: fmt.Sprintf("the code %s stood on %s already: which of the two is right must be asked", code, st.lines.words(lines[0]))})
		}
		return nil
	})
	if err != nil {
		return fmt.Errorf("look for codes that stand twice: %w", err)
	}
	if s.Refused == 0 {
		return nil
	}
	_, err = tx.Exec(ctx, `UPDATE staged SET good = false WHERE good AND code IN (SELECT code FROM staged WHERE good GROUP BY code HAVING count(*) > 1)`)
	if err != nil {
		return fmt.Errorf("set aside codes that stand twice: %w", err)
	}
	return nil
}

// jumps lists the prices a piece that moved by more than so many per cent.
func (st stage) jumps(percent int) func(context.Context, pgx.Tx, *Summary) error {
	return func(ctx context.Context, tx pgx.Tx, s *Summary) error {
		rows, err := tx.Query(ctx, `
			SELECT code, name, round(was_price / was_pack, 4), round(price / pack, 4)
			FROM matched
			WHERE was_price > 0 AND abs(price / pack - was_price / was_pack) > was_price / was_pack * $1::int / 100.0
			ORDER BY line`, percent)
		if err != nil {
			return fmt.Errorf("compare the prices: %w", err)
		}
		s.Jumps, err = pgx.AppendRows([]Jump(nil), rows, pgx.RowToStructByPos[Jump])
		if err != nil {
			return fmt.Errorf("compare the prices: %w", err)
		}
		err = tx.QueryRow(ctx, `
			SELECT count(*) FILTER (WHERE offer_id IS NULL AND (part_id IS NOT NULL OR family IS NOT NULL)),
			       count(*) FILTER (WHERE offer_id IS NOT NULL AND price / pack IS DISTINCT FROM was_price / was_pack),
			       count(*) FILTER (WHERE offer_id IS NOT NULL AND price / pack IS NOT DISTINCT FROM was_price / was_pack),
			       count(*) FILTER (WHERE was_gone),
			       count(*) FILTER (WHERE part_id IS NULL AND family IS NULL),
			       count(*) FILTER (WHERE mended),
			       count(*) FILTER (WHERE cardinality(unread) > 0)
			FROM matched`).Scan(&s.New, &s.Changed, &s.Same, &s.Back, &s.Waiting, &s.Mended, &s.Unread)
		if err != nil {
			return fmt.Errorf("count the rows: %w", err)
		}
		return nil
	}
}

// fewPrices are too few to say by their middle what has become of a list.
const fewPrices = 5

// taxGone doubts a list whose prices have fallen by about the tax that is taken out of them.
func (st stage) taxGone(ctx context.Context, tx pgx.Tx, s *Summary) error {
	if !st.taxIn.IsPositive() {
		return nil
	}
	var known int
	var moved decimal.Decimal
	err := tx.QueryRow(ctx, `
		SELECT count(*), COALESCE(percentile_disc(0.5) WITHIN GROUP (ORDER BY round(price / pack * was_pack / was_price, 4)), 1)
		FROM matched WHERE was_price > 0`).Scan(&known, &moved)
	if err != nil {
		return fmt.Errorf("compare the prices with those before tax: %w", err)
	}
	if says := pricelist.TaxDoubt(st.taxIn, moved); known >= fewPrices && says != "" {
		s.Paper, s.Doubt = pricelist.TaxGone, says
	}
	return nil
}

// taxCome doubts a list of which most prices have risen by one rate of tax, each to the penny. Cheap ones are too coarse to tell.
func (st stage) taxCome(ctx context.Context, tx pgx.Tx, own decimal.Decimal) (string, error) {
	var known, risen int
	var moved decimal.Decimal
	const comparable = `FROM matched WHERE was_price >= 1 AND price / pack <> was_price / was_pack`
	err := tx.QueryRow(ctx, `SELECT count(*), COALESCE(percentile_disc(0.5) WITHIN GROUP (ORDER BY round(price / pack * was_pack / was_price, 4)), 1) `+comparable).Scan(&known, &moved)
	if err != nil {
		return "", fmt.Errorf("compare the prices with those of the last list: %w", err)
	}
	rate := pricelist.TaxRise(moved, own)
	if !rate.IsPositive() {
		return "", nil
	}
	err = tx.QueryRow(ctx, `
		SELECT count(*) FILTER (WHERE price / pack <> was_price / was_pack AND abs(price - was_price / was_pack * pack * (100 + $1::numeric) / 100) <= 0.0101 * greatest(pack / was_pack, 1)), count(*)
		FROM matched WHERE was_price >= 1`, rate).Scan(&risen, &known)
	if err != nil {
		return "", fmt.Errorf("count the prices that have risen by a rate of tax: %w", err)
	}
	if known < fewPrices || risen*10 < known*6 {
		return "", nil
	}
	return pricelist.TaxComeDoubt(rate, risen, known), nil
}

// fillParts adds dimensions that a part did not have, where the text contradicts none that it has. What is there stays:
// a measurement or a correction is worth more than a supplier's text.
func (st stage) fillParts(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		UPDATE part SET dims = (matched.dims - part.said) || part.dims, origins = (matched.origins - part.said) || part.origins
		FROM matched
		WHERE part.id = matched.part_id AND NOT matched.fresh AND part.family = matched.family
		  AND NOT part.dims @> (matched.dims - part.said) AND part.dims || (matched.dims - part.said) = (matched.dims - part.said) || part.dims`)
	if err != nil {
		return fmt.Errorf("fill in dimensions: %w", err)
	}
	return nil
}

// against names the lines that say otherwise of a part than a person has: the person's word stands.
func (st stage) against(ctx context.Context, tx pgx.Tx, s *Summary) error {
	rows, err := tx.Query(ctx, `
		SELECT line, part.id, part.name, COALESCE(d, 'kind'), COALESCE(part.dims ->> d, part.family), COALESCE(matched.dims ->> d, matched.family)
		FROM matched JOIN part ON part.id = matched.part_id AND cardinality(part.said) > 0 AND NOT matched.fresh
		CROSS JOIN LATERAL dims_differ_in(part.dims, CASE WHEN matched.family = part.family THEN matched.dims ELSE '{}' END) AS d
		WHERE d = ANY(part.said) OR matched.family <> part.family
		ORDER BY line`)
	if err != nil {
		return fmt.Errorf("compare the list with what was said: %w", err)
	}
	var line int
	var id int64
	var name, what, yours, theirs string
	_, err = pgx.ForEachRow(rows, []any{&line, &id, &name, &what, &yours, &theirs}, func() error {
		s.Bad = append(s.Bad, pricelist.Problem{Line: line, Says: fmt.Sprintf("reads as %s %s, and it was said of part %d, %s, that it is %s: that stands", what, theirs, id, name, yours)})
		return nil
	})
	if err != nil {
		return fmt.Errorf("compare the list with what was said: %w", err)
	}
	return nil
}

// putOffers writes the offers, new and known.
func (st stage) putOffers(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		INSERT INTO offer (supplier_id, code, part_id, description, gtin, pack, minimum_packs, stock, due_on, as_of, listed)
		SELECT $1, code, part_id, name, gtin, pack, minimum, stock, due_on, $2, true FROM matched WHERE part_id IS NOT NULL
		ON CONFLICT (supplier_id, code) DO UPDATE
		SET (part_id, description, gtin, pack, minimum_packs, stock, due_on, as_of, gone_at, listed) =
		    (EXCLUDED.part_id, EXCLUDED.description, EXCLUDED.gtin, EXCLUDED.pack, EXCLUDED.minimum_packs, EXCLUDED.stock, EXCLUDED.due_on, EXCLUDED.as_of, NULL, true)`,
		st.supplierID, st.asOf)
	if err == nil {
		_, err = tx.Exec(ctx, `
			UPDATE offer SET gone_at = $1 FROM matched
			WHERE offer.id = matched.offer_id AND matched.part_id IS NULL AND offer.gone_at IS NULL`, st.asOf)
	}
	if err != nil {
		return fmt.Errorf("write the offers: %w", err)
	}
	return nil
}

// putPrices writes the prices that are new or have changed, and keeps what each was; a price recorded by hand has no history
// until then.
func (st stage) putPrices(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		WITH moved AS (
		    SELECT offer.id, matched.price, matched.pack
		    FROM matched JOIN offer ON offer.supplier_id = $1 AND offer.code = matched.code
		    WHERE matched.offer_id IS NULL OR (matched.price, matched.pack) IS DISTINCT FROM (matched.was_price, matched.was_pack)
		), before AS (
		    INSERT INTO price_history (offer_id, as_of, pack, price)
		    SELECT offer_id, was_as_of, was_pack, was_price
		    FROM matched
		    WHERE was_price IS NOT NULL AND was_as_of < $2 AND (price, pack) IS DISTINCT FROM (was_price, was_pack)
		      AND NOT EXISTS (SELECT FROM price_history h WHERE h.offer_id = matched.offer_id)
		), kept AS (
		    INSERT INTO price_history (offer_id, as_of, pack, price) SELECT id, $2, pack, price FROM moved
		    ON CONFLICT (offer_id, as_of) DO UPDATE SET (pack, price) = (EXCLUDED.pack, EXCLUDED.price)
		), stale AS (
		    -- A price for many that is no lower than the new price for one was said of the old one.
		    DELETE FROM price_break b USING moved m WHERE b.offer_id = m.id AND b.from_packs > 1 AND b.price >= m.price
		)
		INSERT INTO price_break (offer_id, from_packs, price) SELECT id, 1, price FROM moved
		ON CONFLICT (offer_id, from_packs) DO UPDATE SET price = EXCLUDED.price`, st.supplierID, st.asOf)
	if err != nil {
		return fmt.Errorf("write the prices: %w", err)
	}
	return st.putBreaks(ctx, tx)
}

// putBreaks writes the prices for many as the list has them, where it has any columns for them: they are then all there are.
func (st stage) putBreaks(ctx context.Context, tx pgx.Tx) error {
	_, err := tx.Exec(ctx, `
		DELETE FROM price_break b USING matched m, offer
		WHERE m.from_packs IS NOT NULL AND offer.supplier_id = $1 AND offer.code = m.code AND b.offer_id = offer.id AND b.from_packs > 1`, st.supplierID)
	if err == nil {
		_, err = tx.Exec(ctx, `
			INSERT INTO price_break (offer_id, from_packs, price)
			SELECT offer.id, said.* FROM matched m JOIN offer ON offer.supplier_id = $1 AND offer.code = m.code, unnest(m.from_packs, m.for_many) AS said
			WHERE m.part_id IS NOT NULL`, st.supplierID)
	}
	if err != nil {
		return fmt.Errorf("write the prices for many: %w", err)
	}
	return nil
}

// putRetail keeps what is recommended for a part and has changed: the one said last counts, of one piece, but for what
// the shop has said itself. Where one list has a part in several packs it is that of the smallest.
func (st stage) putRetail(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		INSERT INTO retail_history (offer_id, as_of, pack, retail)
		SELECT offer.id, $2, m.pack, m.retail
		FROM matched m JOIN offer ON offer.supplier_id = $1 AND offer.code = m.code
		LEFT JOIN LATERAL (SELECT pack, retail FROM retail_history h WHERE h.offer_id = offer.id ORDER BY as_of DESC LIMIT 1) AS was ON true
		WHERE m.part_id IS NOT NULL AND m.retail > 0 AND (m.pack, m.retail) IS DISTINCT FROM (was.pack, was.retail)
		ON CONFLICT (offer_id, as_of) DO UPDATE SET (pack, retail) = (EXCLUDED.pack, EXCLUDED.retail)`, st.supplierID, st.asOf)
	if err == nil {
		_, err = tx.Exec(ctx, `
			UPDATE part SET retail = said.retail, retail_by = $1, retail_as_of = $2
			FROM (SELECT DISTINCT ON (part_id) part_id, trim_scale(round(retail / pack, 6)) AS retail
			      FROM matched WHERE part_id IS NOT NULL AND retail > 0 AND NOT fresh ORDER BY part_id, pack, line) AS said
			WHERE part.id = said.part_id AND said.retail > 0
			  AND (part.retail IS NULL OR part.retail_by IS NOT NULL AND part.retail_as_of <= $2
			       AND (part.retail, part.retail_by) IS DISTINCT FROM (said.retail, $1))`, st.supplierID, st.asOf)
	}
	if err != nil {
		return fmt.Errorf("keep the recommended prices: %w", err)
	}
	return nil
}

// keepWaiting keeps the lines whose family nobody knows yet.
func (st stage) keepWaiting(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `DELETE FROM list_waiting USING staged WHERE list_waiting.supplier_id = $1 AND list_waiting.code = staged.code`, st.supplierID)
	if err == nil {
		_, err = tx.Exec(ctx, `
			INSERT INTO list_waiting (supplier_id, code, name, brand, maker_code, gtin, price, rrp, pack, minimum, stock, as_of, reason, from_packs, for_many, due_on)
			SELECT $1, code, name, brand, maker_code, gtin, price, retail, pack, minimum, stock, $2, waits, from_packs, for_many, due_on FROM matched WHERE part_id IS NULL`, st.supplierID, st.asOf)
	}
	if err != nil {
		return fmt.Errorf("keep lines for review: %w", err)
	}
	return nil
}

// keepUnread keeps the words for the review list.
func (st stage) keepUnread(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `DELETE FROM list_unread USING staged WHERE list_unread.supplier_id = $1 AND list_unread.code = staged.code`, st.supplierID)
	if err == nil {
		_, err = tx.Exec(ctx, `
			INSERT INTO list_unread (supplier_id, word, code)
			SELECT DISTINCT $1::bigint, word, code FROM matched, unnest(unread) AS word`, st.supplierID)
	}
	if err != nil {
		return fmt.Errorf("keep words for review: %w", err)
	}
	return nil
}

// markGone marks the offers that stood in the list before and do no longer. A bad line's offer is in the list and
// stays; so does one that was made by hand.
func (st stage) markGone(ctx context.Context, tx pgx.Tx, s *Summary) error {
	rows, err := tx.Query(ctx, `
		WITH gone AS (
		    UPDATE offer SET gone_at = $2
		    WHERE supplier_id = $1 AND gone_at IS NULL AND listed AND NOT EXISTS (SELECT FROM staged WHERE staged.code = offer.code)
		    RETURNING code, part_id
		)
		SELECT gone.code, part.id, part.name,
		       NOT EXISTS (SELECT FROM offer o WHERE o.part_id = part.id AND o.gone_at IS NULL AND (o.supplier_id <> $1 OR NOT EXISTS (SELECT FROM gone g WHERE g.code = o.code))),
		       ARRAY(SELECT DISTINCT job_id FROM claim WHERE claim.part_id = part.id AND state = 'wanted' ORDER BY 1)
		FROM gone JOIN part ON part.id = gone.part_id ORDER BY gone.code`, st.supplierID, st.asOf)
	if err == nil {
		s.LeftOut, err = pgx.AppendRows([]LeftOut(nil), rows, pgx.RowToStructByPos[LeftOut])
	}
	if err != nil {
		return fmt.Errorf("mark what is gone: %w", err)
	}
	s.Gone = len(s.LeftOut)
	s.LeftOut = s.LeftOut[:min(s.Gone, mostProblems)]
	_, err = tx.Exec(ctx, `
		DELETE FROM list_waiting WHERE supplier_id = $1 AND NOT EXISTS (SELECT FROM staged WHERE staged.code = list_waiting.code)`, st.supplierID)
	if err == nil {
		_, err = tx.Exec(ctx, `
			DELETE FROM list_unread WHERE supplier_id = $1 AND NOT EXISTS (SELECT FROM staged WHERE staged.code = list_unread.code)`, st.supplierID)
	}
	if err != nil {
		return fmt.Errorf("take gone lines off the review list: %w", err)
	}
	return nil
}
