package main

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"stead/inventory"
	"stead/migrations"
)

// deed is what this run has done so far, for the sentence after a failure: it may not claim what is not so.
type deed struct {
	sync.Mutex
	left string // what has been done all the same, and what to do about it; "" while nothing was changed
	key  string // of the change that is under way; "" for none
}

// begins and ended stand around a change; left is what there is to say of it if a failure follows.
func (d *deed) begins(key string) {
	d.Lock()
	defer d.Unlock()
	d.key = key
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

type deedKey struct{}

// deedOf is the run's own; outside of a run, one that nobody asks.
func deedOf(ctx context.Context) *deed {
	if d, ok := ctx.Value(deedKey{}).(*deed); ok {
		return d
	}
	return &deed{}
}

// failure is the sentence for an error: what is wrong, what was done in spite of it, what to do.
func failure(ctx context.Context, err error) string {
	var uncertain *inventory.UncertainError
	var undone *inventory.NotDoneError
	left, underWay := deedOf(ctx).sofar()
	stopped := ctx.Err() != nil
	switch {
	case errors.As(err, &uncertain):
		return fmt.Sprintf("%v: ask with `stead db request %s`, or give the very same command again, which is not done twice", uncertain, uncertain.Key)
	case stopped && underWay != "": // it did not end in time
		return fmt.Sprintf("stopped in the middle of a change: ask with `stead db request %s` whether it was done, or give the very same command again, which is not done twice", underWay)
	case stopped && left == "": // what was running says no more than that it was stopped
		return "stopped: nothing was changed"
	case stopped:
		return "stopped: " + left
	case errors.As(err, &undone):
		return undone.Error() + "; see that the database is still running, then repeat the command"
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
