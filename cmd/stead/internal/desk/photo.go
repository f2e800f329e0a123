package desk

import (
	"context"
	"fmt"
	"strings"

	"stead/inventory"
	"stead/inventory/photo"
	"stead/pricing"
	"stead/pricing/rider"
)

// Photo is a photo as it is listed.
type Photo struct{ photo.Photo }

// LoadPhotos gathers the photos of a part, of a bike with those of its jobs, of a job, or of one place of a job. What is not
// there is an *[inventory.UnknownError].
func LoadPhotos(ctx context.Context, db inventory.DB, of photo.Of) (out []Photo, err error) {
	var all []photo.Photo
	switch {
	case of.PartID != 0:
		if of.PartID, err = inventory.Became(ctx, db, of.PartID); err == nil {
			all, err = photo.OfPart(ctx, db, of.PartID)
		}
	case of.JobID != 0:
		if _, err = pricing.JobByID(ctx, db, of.JobID); err == nil {
			all, err = photo.OfJob(ctx, db, of.JobID)
		}
	default:
		if _, err = pricing.BikeByID(ctx, db, of.BikeID); err == nil {
			all, err = photo.OfBike(ctx, db, of.BikeID)
		}
	}
	out = []Photo{}
	for _, p := range all {
		if of.Place == "" || of.Place == p.Place {
			out = append(out, Photo{p})
		}
	}
	return out, err
}

// Title is what stands below a photo: its words, and for a place which.
func (p Photo) Title() string {
	switch {
	case p.Place != "" && p.Words != "":
		return SiteWords(p.Place) + ": " + p.Words
	case p.Place != "":
		return SiteWords(p.Place)
	case p.Words != "":
		return p.Words
	case p.PartID != 0:
		return "the part"
	}
	return "the bike"
}

// PhotoWords tell of photos in a line; none where there is none: "photos: 1 (chain: worn teeth), 2 (the bike)".
func PhotoWords(photos []Photo) []string {
	if len(photos) == 0 {
		return nil
	}
	var each []string
	for _, p := range photos {
		words := fmt.Sprintf("%d (%s)", p.ID, p.Title())
		if p.Shown {
			words = fmt.Sprintf("%d (%s; the customer sees it)", p.ID, p.Title())
		}
		each = append(each, words)
	}
	return []string{"photos: " + strings.Join(each, ", ")}
}

// Line tells all of a photo in a line.
func (p Photo) Line() string {
	words := fmt.Sprintf("photo %d of %s, %d × %d pixels, %d kB", p.ID, p.Whose(), p.Width, p.Height, (p.Bytes+1023)>>10)
	if p.Words != "" {
		words += ": " + p.Words
	}
	if p.Shown {
		words += "; the customer sees it"
	}
	return words
}

// Whose is what a photo is of: "job 101, chain".
func (p Photo) Whose() string {
	switch {
	case p.PartID != 0:
		return fmt.Sprintf("part %d", p.PartID)
	case p.JobID != 0:
		return fmt.Sprintf("job %d, %s", p.JobID, SiteWords(p.Place))
	}
	return fmt.Sprintf("bike %d", p.BikeID)
}

// ShownPhoto is a photo as the customer sees it.
type ShownPhoto struct {
	ID            int64
	Title         string // below it, in a rider's words
	Width, Height int    // pixels
	JPEG          []byte // for a paper; nil where it is fetched by its number
}

// shownPhotos are those that the customer of a job is shown: of the bike, then of what was found, each ticked for them.
func shownPhotos(ctx context.Context, db inventory.DB, job pricing.Job) ([]ShownPhoto, error) {
	all, err := photo.OfBike(ctx, db, job.Bike.ID)
	if err != nil {
		return nil, err
	}
	var bike, found []ShownPhoto
	for _, p := range all {
		one := ShownPhoto{ID: p.ID, Title: p.Words, Width: p.Width, Height: p.Height}
		switch {
		case !mayShow(p, job):
		case p.JobID == 0:
			bike = append(bike, one)
		default:
			if one.Title = rider.Of(p.Place).Name; p.Words != "" {
				one.Title += ": " + p.Words
			}
			one.Title = Sentence(one.Title)
			found = append(found, one)
		}
	}
	return append(bike, found...), nil
}

// mayShow reports whether the customer of a job may see a photo: it is ticked, and of that job or of its bike as a whole.
func mayShow(p photo.Photo, job pricing.Job) bool {
	return p.Shown && (p.JobID == job.ID || p.JobID == 0 && p.BikeID == job.Bike.ID)
}

// LetterPhoto is a photo for the customer of a job; one that is not for them is not there.
func LetterPhoto(ctx context.Context, db inventory.DB, jobID, id int64) (photo.Photo, error) {
	job, err := pricing.JobByID(ctx, db, jobID)
	if err != nil {
		return photo.Photo{}, err
	}
	p, err := photo.ByID(ctx, db, id)
	if err == nil && !mayShow(p, job) {
		err = &inventory.UnknownError{Kind: inventory.OfPhoto, Name: fmt.Sprint(id)}
	}
	if err != nil {
		return photo.Photo{}, err
	}
	return p, nil
}

// PaperPhotos are the photos that the customer is shown, with their pictures, to be set on paper.
func PaperPhotos(ctx context.Context, db inventory.DB, jobID int64) ([]ShownPhoto, error) {
	job, err := pricing.JobByID(ctx, db, jobID)
	if err != nil {
		return nil, err
	}
	all, err := shownPhotos(ctx, db, job)
	if err != nil {
		return nil, err
	}
	for i := range all {
		if all[i].JPEG, err = photo.JPEG(ctx, db, all[i].ID, false); err != nil {
			return nil, err
		}
	}
	return all, nil
}
