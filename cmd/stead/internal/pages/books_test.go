package pages_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"
)

// The books are the owner's to take along, and nobody else's.
func TestBooks(t *testing.T) {
	s := open(t)
	owner := s.as(ownerName)
	require.Contains(t, owner.get("/shop").source, `href="/books/books.zip"`)
	parts := owner.get("/books/parts.csv")
	require.Equal(t, http.StatusOK, parts.status)
	require.Contains(t, parts.source, "part,family,brand,maker_code,name")
	require.Contains(t, owner.get("/books/books.zip").source, "PK\x03\x04")
	require.Equal(t, http.StatusNotFound, owner.get("/books/secrets.csv").status)
	require.Equal(t, http.StatusForbidden, s.as(mechanicName).get("/books/customers.csv").status)
	require.NotContains(t, s.stranger().get("/books/customers.csv").source, "Falkner")
}
