package pages

import (
	"net/http"
	"time"
)

// lateAnswer gives an answer its time to be written from when it begins. The server's own bound counts from the request,
// and to weigh the shelf of 150,000 parts on a busy machine takes longer than that: it was weighed, and nobody was told.
type lateAnswer struct {
	http.ResponseWriter
	begun bool
}

// Unwrap is for [http.ResponseController].
func (w *lateAnswer) Unwrap() http.ResponseWriter { return w.ResponseWriter }

func (w *lateAnswer) WriteHeader(status int) {
	w.begin()
	w.ResponseWriter.WriteHeader(status)
}

func (w *lateAnswer) Write(b []byte) (int, error) {
	w.begin()
	return w.ResponseWriter.Write(b)
}

func (w *lateAnswer) begin() {
	if !w.begun {
		w.begun = true
		// A writer without a connection, a test's, knows no deadline and needs none.
		_ = http.NewResponseController(w.ResponseWriter).SetWriteDeadline(time.Now().Add(writeTime))
	}
}
