package desk

import (
	"fmt"

	"stead/inventory"
	"stead/pricing"
)

// StandInWords say which part is bought in the stead of another.
func StandInWords(part, other inventory.Part) string {
	return fmt.Sprintf("%s is bought in the stead of %s", other.Name, part.Name)
}

// StoodInWords tell what became of a job that wanted the other part.
func StoodInWords(j pricing.StoodIn) string {
	if j.Quote.State == pricing.Approved {
		return fmt.Sprintf("job %d has it now, as agreed with %s", j.JobID, j.Customer)
	}
	return fmt.Sprintf("job %d: ask %s, it is not as agreed", j.JobID, j.Customer)
}
