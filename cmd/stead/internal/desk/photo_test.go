package desk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"stead/inventory/photo"
)

func TestPhotoWords(t *testing.T) {
	require.Empty(t, PhotoWords(nil))
	require.Equal(t, []string{"photos: 1 (chain: worn teeth; the customer sees it), 2 (the bike), 3 (the part)"}, PhotoWords([]Photo{
		{photo.Photo{ID: 1, Of: photo.Of{JobID: 101, Place: "chain"}, Words: "worn teeth", Shown: true}}, {photo.Photo{ID: 2, Of: photo.Of{BikeID: 1}}}, {photo.Photo{ID: 3, Of: photo.Of{PartID: 1}}},
	}))
}
