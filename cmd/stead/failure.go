package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"sync"

	"stead/inventory"
	"stead/migrations"
)

// deed is what this run has done so far, for the sentence after a failure: it may not claim what is not so.
type deed struct {
	sync.Mutex
	left string // what has been done all the same, and what to do about it; "" while nothing was changed
	key  string // of the change that is under way; "" for none
	// The key is found again by the same command. Where there is no place to keep it, only who types it can.
	remembered bool
}

// begins and ended stand around a change; left is what there is to say of it if a failure follows.
func (d *deed) begins(key string, remembered bool) {
	d.Lock()
	defer d.Unlock()
	d.key, d.remembered = key, remembered
}

func (d *deed) ended(left string) {
	d.Lock()
	defer d.Unlock()
	d.key = ""
	if left != "" {
		d.left = left
	}
}

func (d *deed) sofar() (left, key string) {
	d.Lock()
	defer d.Unlock()
	return d.left, d.key
}

// again is how the change of a key is given a second time so that it is not done twice.
func (d *deed) again(key string) string {
	d.Lock()
	defer d.Unlock()
	if d.remembered {
		return "give the very same command again, which is not done twice"
	}
	return fmt.Sprintf("give the same command again with --request %s, which is not done twice", key)
}

type deedKey struct{}

// deedOf is the run's own; outside of a run, one that nobody asks.
func deedOf(ctx context.Context) *deed {
	if d, ok := ctx.Value(deedKey{}).(*deed); ok {
		return d
	}
	return &deed{}
}

// unsaidError says that the answer could not be written to where it was to go: a full disk, a line that is closed.
type unsaidError struct{ cause error }

func (e *unsaidError) Error() string {
	var at *fs.PathError
	if errors.As(e.cause, &at) {
		return fmt.Sprintf("the answer could not be written: %v", at.Err)
	}
	return fmt.Sprintf("the answer could not be written: %v", e.cause)
}
func (e *unsaidError) Unwrap() error { return e.cause }

// failure is the sentence for an error: what is wrong, what was done in spite of it, what to do.
func failure(ctx context.Context, err error) string {
	var uncertain *inventory.UncertainError
	var undone *inventory.NotDoneError
	var unsaid *unsaidError
	deed := deedOf(ctx)
	left, underWay := deed.sofar()
	stopped := ctx.Err() != nil
	switch {
	case errors.As(err, &uncertain):
		return fmt.Sprintf("%v: ask with `stead db request %s`, or %s", uncertain, uncertain.Key, deed.again(uncertain.Key))
	case stopped && underWay != "": // it did not end in time
		return fmt.Sprintf("stopped in the middle of a change: ask with `stead db request %s` whether it was done, or %s", underWay, deed.again(underWay))
	case stopped && left == "": // what was running says no more than that it was stopped
		return "stopped: nothing was changed"
	case stopped:
		return "stopped: " + left
	case errors.As(err, &undone):
		return undone.Error() + "; see that the database is still running, then repeat the command"
	}
	if errors.As(err, &unsaid) {
		return unsaid.Error() + "; " + cmp.Or(left, "give it room, or another place, and ask again")
	}
	sentence, passing := migrations.Explain(err)
	sentence = withHint(sentence, err)
	switch {
	case left != "":
		return sentence + "; " + left
	case passing:
		return sentence + ", then repeat the command; nothing was changed"
	}
	return sentence
}
