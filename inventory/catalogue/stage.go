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
	"stead/inventory/pricelist/describe"
	"stead/substitution"
)

// stage is the way of rows into the catalogue: they are copied into a table of the transaction's own, matched with what is
// known, and written with a few statements over all of them.
type stage struct {
	supplierID int64
	asOf       time.Time
	reader     *describe.Reader
}

var stagedColumns = []string{"line", "good", "code", "name", "brand", "maker_code", "gtin", "price", "rrp", "pack", "minimum", "stock", "family", "dims", "origins", "unread"}

// fill copies the rows to the stage, each description read.
func (st stage) fill(ctx context.Context, tx pgx.Tx, rows iter.Seq2[pricelist.Row, error]) error {
	_, err := tx.Exec(ctx, `
		DROP TABLE IF EXISTS pg_temp.staged, pg_temp.matched;
		CREATE TEMP TABLE staged (
		    line int, good boolean, code text, name text, brand text, maker_code text, gtin text, price numeric(12,4), rrp numeric(12,2),
		    pack int, minimum int, stock text, family text, dims jsonb, origins jsonb, unread text[]
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
	good := row.Good()
	if !good { // only its code counts: it is in the list, so it is not gone
		return []any{row.Line, false, row.Code, "", "", "", nil, nil, nil, nil, nil, nil, nil, nil, nil, nil}, nil
	}
	read := st.reader.Read(row.Name)
	pack := row.Pack
	if said, ok := read.Spec["pack"]; ok && pack <= 1 {
		pack = int(said.Value.Float())
	}
	// How many pieces are sold together is the offer's, not the part's: another wholesaler sells it otherwise.
	delete(read.Spec, "pack")
	dims, err := json.Marshal(read.Spec.Values())
	if err != nil {
		return nil, fmt.Errorf("line %d: %w", row.Line, err)
	}
	return []any{row.Line, true, row.Code, row.Name, row.Brand, row.MakerCode, absent(row.GTIN), row.Price, price2(row.RRP), max(pack, 1), max(row.Minimum, 1),
		string(row.Stock), absent(string(read.Family)), dims, origins(read.Spec), lowered(read.Unread)}, nil
}

func absent(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// price2 is a retail price to the penny; one that rounds to nothing is absent.
func price2(d decimal.NullDecimal) any {
	if !d.Valid || !d.Decimal.Round(2).IsPositive() {
		return nil
	}
	return d.Decimal.Round(2)
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
		st.refuseTwice, st.match, st.jumps(jumpPercent), st.addParts, st.fillParts, st.putOffers, st.putPrices, st.keepWaiting, st.keepUnread,
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
	return s, nil
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
			s.Bad = append(s.Bad, pricelist.Problem{Line: line, Grave: true, Says: fmt.Sprintf("the code %s stood on line %d already: which of the two is right must be asked", code, lines[0])})
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

// match finds for each row its offer and its part: the offer under the code; else a part with the bar code; else one of the brand
// with the maker's code. A part that was merged into another stands for that other.
func (st stage) match(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		CREATE TEMP TABLE matched ON COMMIT DROP AS
		SELECT s.*, o.id AS offer_id, o.pack AS was_pack, b.price AS was_price, o.gone_at IS NOT NULL AS was_gone, o.as_of AS was_as_of,
		       COALESCE(o.part_id, merge.kept, by_gtin.id, by_maker.id) AS part_id, false AS fresh,
		       CASE WHEN s.brand <> '' AND s.maker_code <> '' THEN 'm' || lower(s.brand) || chr(9) || lower(s.maker_code)
		            WHEN s.gtin IS NOT NULL THEN 'g' || s.gtin ELSE 'c' || s.code END AS key
		FROM staged s
		LEFT JOIN offer o ON o.supplier_id = $1 AND o.code = s.code
		LEFT JOIN price_break b ON b.offer_id = o.id AND b.from_packs = 1
		LEFT JOIN part by_gtin ON by_gtin.gtin = s.gtin
		LEFT JOIN part by_maker ON lower(by_maker.maker_code) = lower(s.maker_code) AND lower(by_maker.brand) = lower(s.brand)
		                       AND by_maker.brand <> '' AND by_maker.maker_code <> ''
		LEFT JOIN part_merge merge ON merge.merged = COALESCE(by_gtin.id, by_maker.id) AND merge.split_at IS NULL
		WHERE s.good`, st.supplierID)
	if err == nil {
		_, err = tx.Exec(ctx, `ANALYZE matched`) // else the plans below are made for a handful of rows
	}
	if err != nil {
		return fmt.Errorf("match the rows: %w", err)
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
			       count(*) FILTER (WHERE cardinality(unread) > 0)
			FROM matched`).Scan(&s.New, &s.Changed, &s.Same, &s.Back, &s.Waiting, &s.Unread)
		if err != nil {
			return fmt.Errorf("count the rows: %w", err)
		}
		return nil
	}
}

// addParts makes a part of every new thing. Rows with one maker's code, or one bar code, are one part.
func (st stage) addParts(ctx context.Context, tx pgx.Tx, s *Summary) error {
	_, err := tx.Exec(ctx, `
		WITH keys AS (SELECT DISTINCT key FROM matched WHERE part_id IS NULL AND family IS NOT NULL),
		     numbered AS MATERIALIZED (SELECT key, nextval(pg_get_serial_sequence('part', 'id')) AS id FROM keys)
		UPDATE matched SET part_id = numbered.id, fresh = true
		FROM numbered
		WHERE matched.key = numbered.key AND matched.part_id IS NULL AND matched.family IS NOT NULL`)
	if err != nil {
		return fmt.Errorf("number the new parts: %w", err)
	}
	tag, err := tx.Exec(ctx, `
		INSERT INTO part (id, family, brand, maker_code, name, dims, origins, gtin, retail)
		OVERRIDING SYSTEM VALUE
		SELECT DISTINCT ON (part_id) part_id, family, brand, maker_code, name, dims, origins, gtin, rrp
		FROM matched WHERE fresh
		ORDER BY part_id, line
		ON CONFLICT DO NOTHING`)
	if err != nil {
		return fmt.Errorf("add the new parts: %w", err)
	}
	s.Parts = int(tag.RowsAffected())
	var numbered int
	if err := tx.QueryRow(ctx, `SELECT count(DISTINCT part_id) FROM matched WHERE fresh`).Scan(&numbered); err != nil {
		return fmt.Errorf("count the new parts: %w", err)
	}
	if numbered == s.Parts {
		return nil
	}
	// Rows whose bar code came first under another maker's code are that part, and with them all of their key.
	_, err = tx.Exec(ctx, `
		UPDATE matched SET part_id = found.id, fresh = false
		FROM (SELECT m.key, min(part.id) AS id
		      FROM matched m JOIN part ON part.gtin = m.gtin
		          OR lower(part.maker_code) = lower(m.maker_code) AND lower(part.brand) = lower(m.brand) AND part.brand <> '' AND part.maker_code <> ''
		      WHERE m.fresh AND NOT EXISTS (SELECT FROM part made WHERE made.id = m.part_id)
		      GROUP BY m.key) found
		WHERE matched.key = found.key AND matched.fresh`)
	if err != nil {
		return fmt.Errorf("join rows of one part: %w", err)
	}
	return nil
}

// fillParts adds dimensions that a part did not have, where the text contradicts none that it has. What is there stays:
// a measurement or a correction is worth more than a supplier's text.
func (st stage) fillParts(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		UPDATE part SET dims = matched.dims || part.dims, origins = matched.origins || part.origins
		FROM matched
		WHERE part.id = matched.part_id AND NOT matched.fresh AND part.family = matched.family
		  AND NOT part.dims @> matched.dims AND part.dims || matched.dims = matched.dims || part.dims`)
	if err != nil {
		return fmt.Errorf("fill in dimensions: %w", err)
	}
	return nil
}

// putOffers writes the offers, new and known.
func (st stage) putOffers(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		INSERT INTO offer (supplier_id, code, part_id, description, gtin, pack, minimum_packs, stock, as_of)
		SELECT $1, code, part_id, name, gtin, pack, minimum, stock, $2 FROM matched WHERE part_id IS NOT NULL
		ON CONFLICT (supplier_id, code) DO UPDATE
		SET (description, gtin, pack, minimum_packs, stock, as_of, gone_at) =
		    (EXCLUDED.description, EXCLUDED.gtin, EXCLUDED.pack, EXCLUDED.minimum_packs, EXCLUDED.stock, EXCLUDED.as_of, NULL)`,
		st.supplierID, st.asOf)
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
	return nil
}

// keepWaiting keeps the lines whose family nobody knows yet.
func (st stage) keepWaiting(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `DELETE FROM list_waiting USING staged WHERE list_waiting.supplier_id = $1 AND list_waiting.code = staged.code`, st.supplierID)
	if err == nil {
		_, err = tx.Exec(ctx, `
			INSERT INTO list_waiting (supplier_id, code, name, brand, maker_code, gtin, price, rrp, pack, minimum, stock, as_of)
			SELECT $1, code, name, brand, maker_code, gtin, price, rrp, pack, minimum, stock, $2 FROM matched WHERE part_id IS NULL`, st.supplierID, st.asOf)
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

// markGone marks the offers that the list no longer has. A bad line's offer is in the list and stays.
func (st stage) markGone(ctx context.Context, tx pgx.Tx, s *Summary) error {
	tag, err := tx.Exec(ctx, `
		UPDATE offer SET gone_at = $2
		WHERE supplier_id = $1 AND gone_at IS NULL AND NOT EXISTS (SELECT FROM staged WHERE staged.code = offer.code)`, st.supplierID, st.asOf)
	if err != nil {
		return fmt.Errorf("mark what is gone: %w", err)
	}
	s.Gone = int(tag.RowsAffected())
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
