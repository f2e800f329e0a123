package photo

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"stead/inventory"
	"stead/inventory/photo/picture"
	"stead/migrations"
	"stead/migrations/backup"
	"stead/migrations/testdb"
	"stead/substitution"
)

func TestMain(m *testing.M) { testdb.Main(m) }

var now = time.Date(2026, time.December, 2, 9, 30, 0, 0, time.UTC)

// speckled is a picture of which no two parts are alike, as a photo's are not.
func speckled(t testing.TB, w, h int) picture.Picture {
	m := image.NewGray(image.Rect(0, 0, w, h))
	random := rand.New(rand.NewPCG(1, 2))
	for i := range m.Pix {
		m.Pix[i] = uint8(random.Uint32())
	}
	var file bytes.Buffer
	require.NoError(t, png.Encode(&file, m))
	taken, err := picture.Read(&file)
	require.NoError(t, err)
	return taken
}

// bike is a bike and a job for it.
func bike(t *testing.T, tx pgx.Tx) (bikeID, jobID int64) {
	require.NoError(t, tx.QueryRow(t.Context(), `
		WITH c AS (INSERT INTO customer (name) VALUES ('Ines Falkner') RETURNING id)
		INSERT INTO bike (customer_id, words) SELECT id, 'blue touring bike' FROM c RETURNING id`).Scan(&bikeID))
	require.NoError(t, tx.QueryRow(t.Context(), `INSERT INTO job (bike_id) VALUES ($1) RETURNING id`, bikeID).Scan(&jobID))
	return bikeID, jobID
}

func part(t *testing.T, tx pgx.Tx) int64 {
	p, err := inventory.AddPart(t.Context(), tx, inventory.Part{Part: substitution.Part{Family: "chain", Name: "chain 9-speed"}})
	require.NoError(t, err)
	return p.ID
}

func TestPhotos(t *testing.T) {
	tx := testdb.Tx(t)
	bikeID, jobID := bike(t, tx)
	partID := part(t, tx)
	taken := speckled(t, 400, 300)
	add := func(p Photo) Photo {
		p.TakenAt = now
		kept, err := Add(t.Context(), tx, p, taken)
		require.NoError(t, err)
		return kept
	}
	whole, chain, shelved := add(Photo{Of: Of{BikeID: bikeID}, Words: "as it\ncame "}), add(Photo{Of: Of{JobID: jobID, Place: "chain"}, Shown: true}), add(Photo{Of: Of{PartID: partID}})
	require.Equal(t, "as it came", whole.Words)
	require.Equal(t, bikeID, chain.BikeID, "a job's photo is of its bike")
	require.Equal(t, []int{400, 300, len(taken.JPEG)}, []int{chain.Width, chain.Height, chain.Bytes})

	for name, c := range map[string]struct {
		list func(context.Context, inventory.DB, int64) ([]Photo, error)
		id   int64
		want []Photo
	}{
		"job": {OfJob, jobID, []Photo{chain}}, "bike": {OfBike, bikeID, []Photo{whole, chain}}, "part": {OfPart, partID, []Photo{shelved}}, "another": {OfBike, bikeID + 1, []Photo{}},
	} {
		got, err := c.list(t.Context(), tx, c.id)
		require.NoError(t, err, name)
		require.Equal(t, c.want, got, name)
	}
	for small, want := range map[bool][]byte{false: taken.JPEG, true: taken.Small} {
		got, err := JPEG(t.Context(), tx, chain.ID, small)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}

	hidden, err := Set(t.Context(), tx, chain.ID, func(p *Photo) { p.Shown, p.Words = false, "worn teeth" })
	require.NoError(t, err)
	again, err := ByID(t.Context(), tx, chain.ID)
	require.NoError(t, err)
	require.Equal(t, hidden, again)

	_, err = TakeOff(t.Context(), tx, chain.ID, inventory.Hand{By: "Bram Oakes", Why: "a face is in it", At: now})
	require.NoError(t, err)
	_, err = JPEG(t.Context(), tx, chain.ID, false)
	require.ErrorAs(t, err, new(*inventory.UnknownError))
	trail, err := inventory.Corrections(t.Context(), tx, inventory.OfJob, jobID)
	require.NoError(t, err)
	require.Len(t, trail, 1)
	require.Equal(t, inventory.Change{What: trail[0].What, Was: "chain, worn teeth, 400 × 300 pixels", Became: "taken off"}, trail[0].Change)
	require.Equal(t, "a face is in it", trail[0].Why)
}

func TestPhotosRefused(t *testing.T) {
	taken := speckled(t, 40, 30)
	for name, c := range map[string]struct {
		of   func(bikeID, jobID, partID int64) Photo
		says string
	}{
		"no such bike":      {of: func(b, _, _ int64) Photo { return Photo{Of: Of{BikeID: b + 1}} }, says: "there is no bike"},
		"no such part":      {of: func(_, _, p int64) Photo { return Photo{Of: Of{PartID: p + 1}} }, says: "there is no part"},
		"no such job":       {of: func(_, j, _ int64) Photo { return Photo{Of: Of{JobID: j + 1, Place: "chain"}} }, says: "there is no job"},
		"no place":          {of: func(_, j, _ int64) Photo { return Photo{Of: Of{JobID: j}} }, says: "name both"},
		"no such place":     {of: func(_, j, _ int64) Photo { return Photo{Of: Of{JobID: j, Place: "bell"}} }, says: "bell"},
		"a part, shown":     {of: func(_, _, p int64) Photo { return Photo{Of: Of{PartID: p}, Shown: true} }, says: "for the workshop"},
		"too long a remark": {of: func(b, _, _ int64) Photo { return Photo{Of: Of{BikeID: b}, Words: string(make([]rune, 201))} }, says: "at most 200"},
	} {
		t.Run(name, func(t *testing.T) {
			tx := testdb.Tx(t)
			bikeID, jobID := bike(t, tx)
			p := c.of(bikeID, jobID, part(t, tx))
			p.TakenAt = now
			_, err := Add(t.Context(), tx, p, taken)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// A photo touches its bike's open jobs and its own, so that their pages are live and their forms guarded.
func TestPhotosTouchTheJob(t *testing.T) {
	tx := testdb.Tx(t)
	bikeID, jobID := bike(t, tx)
	touched := func() (n int) {
		require.NoError(t, tx.QueryRow(t.Context(), `SELECT count(*) FROM touched WHERE kind = 'job' AND id = $1`, jobID).Scan(&n))
		return n
	}
	before := touched()
	for _, of := range []Of{{BikeID: bikeID}, {JobID: jobID, Place: "chain"}} {
		_, err := Add(t.Context(), tx, Photo{Of: of, TakenAt: now}, speckled(t, 40, 30))
		require.NoError(t, err)
		require.Greater(t, touched(), before)
		before = touched()
	}
}

// A backup has the photos, byte by byte, and is not much larger than they are.
func TestBackupHasPhotos(t *testing.T) {
	pool := testdb.New(t)
	dsn := pool.Config().ConnString()
	taken := speckled(t, 1600, 1200)
	var id int64
	require.NoError(t, pgx.BeginFunc(t.Context(), pool, func(tx pgx.Tx) error {
		bikeID, _ := bike(t, tx)
		kept, err := Add(t.Context(), tx, Photo{Of: Of{BikeID: bikeID}, TakenAt: now}, taken)
		id = kept.ID
		return err
	}))
	pool.Close()
	file := filepath.Join(t.TempDir(), "monday.backup")
	require.NoError(t, backup.Save(t.Context(), dsn, file, nil))
	info, err := os.Stat(file)
	require.NoError(t, err)
	t.Logf("a photo of %d kB, and a backup of %d kB", len(taken.JPEG)>>10, info.Size()>>10)
	require.Less(t, info.Size(), int64(len(taken.JPEG)*5/4+1<<20))

	fresh := testdb.New(t)
	fresh.Close()
	into := fresh.Config().ConnString()
	require.NoError(t, backup.Restore(t.Context(), into, file, true, nil))
	restored, err := migrations.Connect(t.Context(), into)
	require.NoError(t, err)
	defer restored.Close()
	got, err := JPEG(t.Context(), restored, id, false)
	require.NoError(t, err)
	require.True(t, bytes.Equal(taken.JPEG, got))
}
