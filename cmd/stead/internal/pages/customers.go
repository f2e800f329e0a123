package pages

import (
	"stead/cmd/stead/internal/desk"
	"stead/inventory"
)

// customersPage finds customers by what one knows of them.
type customersPage struct {
	Words string
	Found []desk.Customer
}

func showCustomers(v *visit) (string, any, error) {
	p := customersPage{Words: v.asked("q")}
	var err error
	if p.Words != "" {
		p.Found, err = desk.FindCustomers(v.ctx, v.db(), p.Words)
	}
	return "Customers", p, err
}

// customerPage is a customer with all that is on record of them.
type customerPage struct {
	desk.Customer
	Trail []string
}

func showCustomer(v *visit) (string, any, error) {
	id, err := v.number("customer")
	if err != nil {
		return "", nil, err
	}
	p := customerPage{}
	if p.Customer, err = desk.LoadCustomer(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	p.Trail, err = v.trail(inventory.OfCustomer, id)
	return p.Name, p, err
}
