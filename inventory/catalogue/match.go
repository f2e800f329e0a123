package catalogue

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"stead/inventory/pricelist"
)

// mostSharing is how many lines of a list may be of one thing: by the piece, the bag, the box and the carton. A code
// that more of them have is none.
const mostSharing = 4

// dropShared takes away maker's codes and bar codes that stand on lines of different things: of two families, of dimensions
// that cannot both be, or with words of which nobody knows what they mean. They join nothing.
func (st stage) dropShared(ctx context.Context, tx pgx.Tx, s *Summary) error {
	for _, code := range []struct{ words, has, key, none string }{
		{"maker's code", `brand <> '' AND maker_code <> ''`, `lower(brand) || chr(9) || lower(maker_code)`, `maker_code = ''`},
		{"bar code", `gtin IS NOT NULL`, `gtin`, `gtin = NULL`},
	} {
		rows, err := tx.Query(ctx, `
			WITH keyed AS (SELECT line, family, dims, unread, `+code.key+` AS key FROM staged WHERE good AND `+code.has+`),
			     several AS (SELECT key, array_agg(line ORDER BY line) AS lines, count(DISTINCT COALESCE(family, '')) AS families, count(DISTINCT unread) AS words
			                 FROM keyed GROUP BY key HAVING count(*) > 1),
			     wrong AS (SELECT key, lines FROM several
			               WHERE cardinality(lines) > $1 OR families > 1 OR words > 1
			                  OR EXISTS (SELECT FROM keyed a JOIN keyed b ON b.key = a.key AND b.line > a.line
			                             WHERE a.key = several.key AND dims_differ_in(a.dims, b.dims) IS NOT NULL)),
			     dropped AS (UPDATE staged SET `+code.none+` FROM wrong WHERE staged.good AND staged.line = ANY(wrong.lines))
			SELECT lines FROM wrong ORDER BY lines[1]`, mostSharing)
		if err != nil {
			return fmt.Errorf("look for a %s of several things: %w", code.words, err)
		}
		var lines []int
		_, err = pgx.ForEachRow(rows, []any{&lines}, func() error {
			s.Bad = append(s.Bad, pricelist.Problem{Line: lines[0], Says: fmt.Sprintf(
				"the %s stands on %d lines that need not be one thing (%s, %s …): it is taken for none of them", code.words, len(lines), st.lines.words(lines[0]), st.lines.words(lines[1]))})
			return nil
		})
		if err != nil {
			return fmt.Errorf("look for a %s of several things: %w", code.words, err)
		}
	}
	return nil
}

// match finds for each row its offer, and the parts that its bar code and maker's code lead to. A part that was made
// one with another is that other.
func (st stage) match(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		CREATE TEMP TABLE matched ON COMMIT DROP AS
		SELECT s.*, o.id AS offer_id, o.pack AS was_pack, b.price AS was_price, o.gone_at IS NOT NULL AS was_gone, o.as_of AS was_as_of,
		       o.part_id AS part_id, o.part_id AS was_part, o.description = s.name OR o.said AS as_before, o.said AS said,
		       known.family AS was_family, cardinality(known.said) > 0 AS was_told, CASE WHEN NOT known.dims @> s.dims THEN dims_differ_in(known.dims - known.said, s.dims) END AS was_other_in,
		       COALESCE(by_gtin.merged_into, by_gtin.id) AS by_gtin, by_gtin.family AS gtin_family,
		       CASE WHEN NOT by_gtin.dims @> s.dims THEN dims_differ_in(by_gtin.dims - by_gtin.said, s.dims) END AS gtin_other_in,
		       COALESCE(by_maker.merged_into, by_maker.id) AS by_maker, by_maker.family AS maker_family,
		       CASE WHEN NOT by_maker.dims @> s.dims THEN dims_differ_in(by_maker.dims - by_maker.said, s.dims) END AS maker_other_in,
		       false AS fresh, false AS mended,
		       CASE WHEN s.brand <> '' AND s.maker_code <> '' THEN 'm' || lower(s.brand) || chr(9) || lower(s.maker_code)
		            WHEN s.gtin IS NOT NULL THEN 'g' || s.gtin ELSE 'c' || s.code END AS key
		FROM staged s
		LEFT JOIN offer o ON o.supplier_id = $1 AND o.code = s.code
		LEFT JOIN part known ON known.id = o.part_id
		LEFT JOIN price_break b ON b.offer_id = o.id AND b.from_packs = 1
		LEFT JOIN part by_gtin ON by_gtin.gtin = s.gtin
		LEFT JOIN part by_maker ON lower(by_maker.maker_code) = lower(s.maker_code) AND lower(by_maker.brand) = lower(s.brand)
		                       AND by_maker.brand <> '' AND by_maker.maker_code <> ''
		WHERE s.good`, st.supplierID)
	if err == nil {
		_, err = tx.Exec(ctx, `ANALYZE matched`) // else the plans below are made for a handful of rows
	}
	if err != nil {
		return fmt.Errorf("match the rows: %w", err)
	}
	return nil
}

// part settles of which part each row is. A row stays with its offer's part unless its description says otherwise now:
// then it is a part of its own, and so is one whose bar code or maker's code leads to a part that it cannot be. Nothing
// is joined across families, or against a dimension.
func (st stage) part(ctx context.Context, tx pgx.Tx, s *Summary) error {
	rows, err := tx.Query(ctx, `
		WITH moved AS (
		    -- Read otherwise than when its part was made, or another description under the old code.
		    UPDATE matched SET part_id = NULL, mended = as_before, was_price = CASE WHEN as_before THEN was_price END
		    WHERE part_id IS NOT NULL AND NOT said AND NOT was_told
		      AND (other OR family <> was_family OR $1 AND family IS NULL OR NOT as_before AND was_other_in IS NOT NULL)
		    RETURNING line, as_before, was_part, was_family, family, was_other_in, other, NULL::text AS by
		), wrong_gtin AS (
		    SELECT line FROM matched WHERE by_gtin IS NOT NULL AND by_gtin IS DISTINCT FROM was_part AND (other OR family <> gtin_family OR gtin_other_in IS NOT NULL)
		), wrong_maker AS (
		    SELECT line FROM matched WHERE by_maker IS NOT NULL AND by_maker IS DISTINCT FROM was_part AND (other OR family <> maker_family OR maker_other_in IS NOT NULL)
		)
		SELECT line, was_part, COALESCE(was_other_in, ''), 'the description under its code was of another part before' FROM moved WHERE NOT as_before
		UNION ALL SELECT line, by_gtin, COALESCE(gtin_other_in, ''), 'its bar code is that of another part' FROM matched JOIN wrong_gtin USING (line)
		UNION ALL SELECT line, by_maker, COALESCE(maker_other_in, ''), 'its maker''s code is that of another part' FROM matched JOIN wrong_maker USING (line)
		ORDER BY 1`, st.forgotten)
	if err != nil {
		return fmt.Errorf("settle the parts: %w", err)
	}
	var line int
	var partID int64
	var dimension, says string
	_, err = pgx.ForEachRow(rows, []any{&line, &partID, &dimension, &says}, func() error {
		why := "which is of another kind"
		if dimension != "" {
			why = "which differs in " + dimension
		}
		s.Bad = append(s.Bad, pricelist.Problem{Line: line, Says: fmt.Sprintf("%s, part %d, %s: it is not joined with it", says, partID, why)})
		return nil
	})
	if err == nil {
		_, err = tx.Exec(ctx, `
			UPDATE matched SET part_id = CASE
			        WHEN NOT other AND (family IS NULL OR family = gtin_family) AND by_gtin IS NOT NULL AND gtin_other_in IS NULL THEN by_gtin
			        WHEN NOT other AND (family IS NULL OR family = maker_family) AND by_maker IS NOT NULL AND maker_other_in IS NULL THEN by_maker END
			WHERE part_id IS NULL AND (by_gtin IS NOT NULL OR by_maker IS NOT NULL) AND (NOT mended OR COALESCE(by_gtin, by_maker) <> was_part)`)
	}
	if err != nil {
		return fmt.Errorf("settle the parts: %w", err)
	}
	return nil
}

// mendParts corrects a part that was read wrongly, where nothing else is offered of it: it is the same thing on the
// shelf, only what it is was not known. One that others offer too is left to them.
func (st stage) mendParts(ctx context.Context, tx pgx.Tx, _ *Summary) error {
	_, err := tx.Exec(ctx, `
		WITH mine AS (
		    SELECT min(line) AS line, was_part FROM matched
		    WHERE mended AND part_id IS NULL AND family IS NOT NULL
		    GROUP BY was_part
		    HAVING count(*) = (SELECT count(*) FROM offer WHERE offer.part_id = was_part) AND count(DISTINCT family) = 1
		), mended AS (
		    UPDATE part SET family = m.family, dims = m.dims, origins = m.origins
		    FROM mine JOIN matched m USING (line) WHERE part.id = mine.was_part
		)
		UPDATE matched SET part_id = mine.was_part FROM mine WHERE matched.was_part = mine.was_part AND matched.mended`)
	if err != nil {
		return fmt.Errorf("mend what was read wrongly: %w", err)
	}
	return nil
}

// addParts makes a part of every new thing. Rows with one maker's code, or one bar code, are one part. A code that
// another part has is not the new one's too.
func (st stage) addParts(ctx context.Context, tx pgx.Tx, s *Summary) error {
	_, err := tx.Exec(ctx, `
		UPDATE matched SET key = 'c' || code WHERE part_id IS NULL AND (by_gtin IS NOT NULL OR by_maker IS NOT NULL)`)
	if err == nil {
		_, err = tx.Exec(ctx, `
			WITH keys AS (SELECT DISTINCT key FROM matched WHERE part_id IS NULL AND family IS NOT NULL),
			     numbered AS MATERIALIZED (SELECT key, nextval(pg_get_serial_sequence('part', 'id')) AS id FROM keys)
			UPDATE matched SET part_id = numbered.id, fresh = true
			FROM numbered
			WHERE matched.key = numbered.key AND matched.part_id IS NULL AND matched.family IS NOT NULL`)
	}
	if err != nil {
		return fmt.Errorf("number the new parts: %w", err)
	}
	tag, err := tx.Exec(ctx, `
		INSERT INTO part (id, family, brand, maker_code, name, dims, origins, gtin, retail, retail_by, retail_as_of)
		OVERRIDING SYSTEM VALUE
		SELECT DISTINCT ON (part_id) part_id, family, brand, CASE WHEN by_maker IS NULL THEN maker_code ELSE '' END,
		       name || CASE WHEN dims ->> 'by_metre' = 'true' THEN ', by the metre' WHEN dims ->> 'by_wheel' = 'true' THEN ', a wheel''s length' ELSE '' END, dims, origins,
		       CASE WHEN by_gtin IS NULL THEN gtin END, NULLIF(trim_scale(round(retail / pack, 6)), 0),
		       CASE WHEN trim_scale(round(retail / pack, 6)) > 0 THEN $1::bigint END, CASE WHEN trim_scale(round(retail / pack, 6)) > 0 THEN $2::timestamptz END
		FROM matched WHERE fresh
		ORDER BY part_id, retail IS NULL, pack, line
		ON CONFLICT DO NOTHING`, st.supplierID, st.asOf)
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
	// Rows whose bar code came first under another maker's code are that part, and with them all of their key. What
	// stands on lines of different things is no code any more, so that they are one thing.
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
