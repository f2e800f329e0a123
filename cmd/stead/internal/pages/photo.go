package pages

import (
	"context"
	"crypto/sha256"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/inventory"
	"stead/inventory/photo"
	"stead/inventory/photo/picture"
	"stead/pricing"
	"stead/substitution"
)

// photosPage are the photos of a part, a bike or a place of a job, with a way to take another.
type photosPage struct {
	Of       photo.Of
	Whose    string // "Ines Falkner's blue touring bike"
	Back     string // the page to which they belong
	All      []desk.Photo
	Customer bool // some can be shown to one
}

// photoActs are the buttons of the three.
var photoActs = map[string]act{"take": keepPhoto, "change": changePhoto, "take-off": takeOffPhoto}

// photosOf is what the path's photos are of.
func (v *visit) photosOf() (of photo.Of, err error) {
	switch {
	case strings.HasPrefix(v.page.path, "/parts/"):
		if of.PartID, err = v.number("part"); err == nil {
			of.PartID, err = inventory.Became(v.ctx, v.db(), of.PartID)
		}
	case strings.HasPrefix(v.page.path, "/bikes/"):
		of.BikeID, err = v.number("bike")
	default:
		var site substitution.Site
		of.JobID, site, err = v.jobPlace()
		of.Place = site.Place
	}
	return of, err
}

// photosPath is the page of what photos are of.
func photosPath(of photo.Of) string {
	switch {
	case of.PartID != 0:
		return fmt.Sprintf("/parts/%d/photos", of.PartID)
	case of.JobID != 0:
		return fmt.Sprintf("/jobs/%d/photos?place=%s", of.JobID, url.QueryEscape(string(of.Place)))
	}
	return fmt.Sprintf("/bikes/%d/photos", of.BikeID)
}

func showPhotos(v *visit) (string, any, error) {
	of, err := v.photosOf()
	if err != nil {
		return "", nil, err
	}
	p := photosPage{Of: of, Customer: of.PartID == 0}
	title := ""
	switch {
	case of.PartID != 0:
		part, err := inventory.PartByID(v.ctx, v.db(), of.PartID)
		if err != nil {
			return "", nil, err
		}
		title, p.Whose, p.Back = "Photos of the part", part.Name, fmt.Sprintf("/parts/%d", of.PartID)
	case of.JobID != 0:
		job, err := pricing.JobByID(v.ctx, v.db(), of.JobID)
		if err != nil {
			return "", nil, err
		}
		title, p.Whose, p.Back = "Photos: "+desk.SiteWords(of.Place), job.Bike.Customer.Name+"'s "+job.Bike.Words, inspectPath(of.JobID, of.Place)
	default:
		bike, err := pricing.BikeByID(v.ctx, v.db(), of.BikeID)
		if err != nil {
			return "", nil, err
		}
		title, p.Whose, p.Back = "Photos of the bike", bike.Customer.Name+"'s "+bike.Words, fmt.Sprintf("/bikes/%d", bike.ID)
	}
	p.All, err = desk.LoadPhotos(v.ctx, v.db(), of)
	return title, p, err
}

// Shows asks whether the customer is shown a photo.
func (p photosPage) Shows(f *Form, shown bool) Field {
	return f.Tick("shown", "Show it to the customer", shown).With("On their page, and on the quote that is printed.")
}

// photographed makes a change to the photos of the page, whatever else has happened since it was opened: a photo says what
// was seen, and is not lost for that.
func (v *visit) photographed(said, words string, do func(ctx context.Context, tx pgx.Tx, of photo.Of) error) (string, error) {
	of, err := v.photosOf()
	if err != nil {
		return "", err
	}
	what := map[bool]string{true: " of the " + desk.SiteWords(of.Place)}[of.Place != ""]
	_, err = once(v, words+what, func(ctx context.Context, tx pgx.Tx, _ string) (bool, error) { return true, do(ctx, tx, of) })
	return v.done(photosPath(of), said, err)
}

func keepPhoto(v *visit, t *typed) (string, error) {
	words, shown := t.line("words"), t.ticked("shown")
	f, _, err := v.r.FormFile("photo")
	if err != nil {
		t.mark("photo", "choose the photo, or take one")
		return "", t.wrong()
	}
	defer f.Close() // only read from
	taken, err := picture.Read(f)
	t.take("photo", err)
	if err := t.wrong(); err != nil {
		return "", err
	}
	t.values.Set("photo", fmt.Sprintf("%x", sha256.Sum256(taken.JPEG))) // names the request apart from that of another photo
	return v.photographed("the photo is kept", "took a photo", func(ctx context.Context, tx pgx.Tx, of photo.Of) error {
		_, err := photo.Add(ctx, tx, photo.Photo{Of: of, Words: words, Shown: shown, TakenAt: v.now}, taken)
		return err
	})
}

// itsPhoto is the photo of a form's line, which must be one of the page's.
func itsPhoto(ctx context.Context, tx pgx.Tx, t *typed, of photo.Of) (int64, error) {
	id := t.number64("row")
	all, err := desk.LoadPhotos(ctx, tx, of)
	if err != nil {
		return 0, err
	}
	if !slices.ContainsFunc(all, func(p desk.Photo) bool { return p.ID == id }) {
		return 0, &statusError{http.StatusGone, "the photo is no longer here: open the page again"}
	}
	return id, nil
}

func changePhoto(v *visit, t *typed) (string, error) {
	words, shown := t.line("words"), t.ticked("shown")
	if err := t.wrong(); err != nil {
		return "", err
	}
	said := map[bool]string{true: "the customer is shown it", false: "it is for the workshop"}[shown]
	return v.photographed(said, "changed a photo", func(ctx context.Context, tx pgx.Tx, of photo.Of) error {
		id, err := itsPhoto(ctx, tx, t, of)
		if err == nil {
			_, err = photo.Set(ctx, tx, id, func(p *photo.Photo) { p.Words, p.Shown = words, shown })
		}
		return err
	})
}

func takeOffPhoto(v *visit, t *typed) (string, error) {
	why := t.needed("why", "say why: it is kept, the photo is not")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.photographed("the photo is taken off", "took off a photo", func(ctx context.Context, tx pgx.Tx, of photo.Of) error {
		id, err := itsPhoto(ctx, tx, t, of)
		if err == nil {
			_, err = photo.TakeOff(ctx, tx, id, inventory.Hand{By: v.name(), Why: why, At: v.now})
		}
		return err
	})
}

// givePhoto gives a photo to who works here.
func givePhoto(v *visit) (file, error) {
	id, err := v.number("photo")
	if err != nil {
		return file{}, err
	}
	return v.photo(id)
}

// giveLetterPhoto gives the customer a photo that is ticked for them.
func giveLetterPhoto(v *visit) (file, error) {
	id, err := v.number("photo")
	if err != nil {
		return file{}, err
	}
	p, err := desk.LetterPhoto(v.ctx, v.db(), v.link.JobID, id)
	if err != nil {
		return file{}, err
	}
	return v.photo(p.ID)
}

// photo is a photo by its number, in small where that is asked.
func (v *visit) photo(id int64) (file, error) {
	small := v.asked("small") != ""
	data, err := photo.JPEG(v.ctx, v.db(), id, small)
	if err != nil {
		return file{}, err
	}
	f := file{kind: "image/jpeg", name: fmt.Sprintf("photo-%d.jpg", id), tag: fmt.Sprintf("photo-%d", id), data: data}
	if small {
		f.tag += "-small"
	}
	return f, nil
}

// sendsPhoto reports whether a request is to a page that takes photos.
func sendsPhoto(path string) bool { return strings.HasSuffix(path, "/photos") }
