package pages_test

import (
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// What took longer to reckon than the server's bound for an answer is told nonetheless: here all of it does.
func TestLateAnswer(t *testing.T) {
	s := open(t)
	hurried := httptest.NewUnstartedServer(s.server.Handler())
	hurried.Config.WriteTimeout = time.Nanosecond
	hurried.Start()
	defer hurried.Close()
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	for path, status := range map[string]int{"/sign-in": http.StatusOK, "/jobs": http.StatusSeeOther} {
		answer, err := client.Get(hurried.URL + path)
		require.NoError(t, err, path)
		_, err = io.ReadAll(answer.Body)
		require.NoError(t, err, path)
		require.NoError(t, answer.Body.Close())
		require.Equal(t, status, answer.StatusCode, path)
	}
}
