package orderplan

// Certificate is what Check needs to re-add a lower bound.
type Certificate struct{}
