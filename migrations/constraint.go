package migrations

import (
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5/pgconn"
)

// The last wall: what the database refuses although the program let it through. What a program asks first has its own
// words there; these are for what only the database can see, and for whoever forgot to ask.

var constraintSentences = map[string]string{
	"part_gtin_check_digit":            "the part's GTIN has a wrong check digit: read it again under the bar code",
	"offer_gtin_check_digit":           "the offer's GTIN has a wrong check digit: read it again under the bar code",
	"part_gtin":                        "another part has this GTIN already",
	"part_maker_code":                  "another part of this brand has this maker's code already",
	"part_reorders_upwards":            "a part is reordered up to more than its reorder level: give both, the second larger",
	"ordered_by_hand_is_one_thing":     "a part is bought from one supplier, as another part, or put off: give one of the three",
	"stands_in_for_another":            "a part does not stand in for itself: name another",
	"shelf_not_below_zero":             "there are not so many pieces on the shelf",
	"balance_not_below_zero":           "there are not so many pieces in the bin",
	"reserved_within_stock":            "the pieces on the shelf are reserved for approved jobs",
	"reserved_not_below_zero":          "no more can be released than was reserved",
	"reservation_for_approved_job":     "parts are reserved for approved jobs only",
	"reservation_ends_once":            "this reservation has ended already",
	"ledger_is_append_only":            "the ledger is never changed: book a further movement",
	"movement_has_its_direction":       "this reason and this number of pieces do not go together",
	"movement_names_its_cause":         "a movement names its cause: the delivery it came with, or the job it was used on",
	"movement_request_fkey":            "every movement belongs to a request: begin it with Once",
	"movement_part_id_fkey":            "there is no such part",
	"reservation_part_id_fkey":         "there is no such part",
	"reservation_job_id_fkey":          "there is no such job",
	"offer_part_id_fkey":               "there is no such part",
	"offer_supplier_id_fkey":           "there is no such supplier",
	"claim_part_id_fkey":               "there is no such part",
	"claim_offer_id_fkey":              "there is no such offer",
	"claim_job_id_fkey":                "there is no such job",
	"order_line_part_id_fkey":          "there is no such part",
	"order_line_offer_id_fkey":         "there is no such offer",
	"purchase_order_supplier_id_fkey":  "there is no such supplier",
	"order_line_no_more_than_ordered":  "more pieces would be received and cancelled than were ordered",
	"closure_says_why":                 "a closure needs a reason, such as stocktaking",
	"closure_ends_after_it_begins":     "a closure ends before it begins: correct one of the two days",
	"closure_within_a_year":            "a closure is longer than a year: check the dates",
	"closure_begins_once":              "a closure from this day is recorded already",
	"closure_supplier_id_fkey":         "there is no such supplier",
	"shop_opens_some_day":              "all seven weekdays are closed: leave at least one open",
	"supplier_opens_some_day":          "all seven weekdays are closed: leave at least one open",
	"shelf_word_says_how_many":         "say how many pieces: what is taken, or always kept, is a number",
	"shelf_word_says_until_when":       "a part is put off until a day, and nothing else is",
	"billed_job_stays_closed":          "the job is billed: give its bill back with a credit note first",
	"bill_stays_as_written":            "a bill is never changed: correct it with a credit note",
	"bill_credits_a_bill":              "a credit note names the bill that it corrects, and a bill names none",
	"payments_are_kept":                "a payment is never changed: pay it back, and take it again",
	"payment_is_for_one_thing":         "a payment is for a job or for a sale over the counter",
	"approval_allows_money":            "what a customer allows beyond what is agreed is an amount above zero",
	"job_discount_is_one_or_the_other": "a discount is so much in the hundred, or an amount: one of the two",
	"shop_hourly_is_money":             "an hour of work costs an amount above zero",
	"photo_is_of_one_thing":            "a photo is of a part, of a bike, or of a place of a job's bike: name one of them",
	"photo_of_a_part_is_the_shops":     "a photo of a part is for the workshop: the customer is shown those of their bike",
	"tub_holds_a_share":                "what is left of a tub is a share between 0 and 1",
	"message_leaves_once":              "what has left stays so: write another message",
	"message_is_kept_until_it_leaves":  "a message is kept until it has left or is cancelled, and no longer",
	"message_is_about_one_thing":       "a message is about a job or about an order, not both",
	"claim_ordered_by_a_line":          "a claim is ordered by a line of an order, or it is not ordered",
}

// explainConstraint says which rule of the schema was broken: in its own words, or in those of its name.
func explainConstraint(e *pgconn.PgError) string {
	if sentence, ok := constraintSentences[e.ConstraintName]; ok {
		return sentence
	}
	thing := strings.ReplaceAll(e.TableName, "_", " ")
	rule := strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(e.ConstraintName, e.TableName+"_"), "_check"), "_", " ")
	switch e.Code {
	case "23505": // unique_violation
		return fmt.Sprintf("there is a %s of this %s already: change that one, or give another", thing, strings.TrimSuffix(strings.TrimSuffix(rule, " key"), " pkey"))
	case "23503": // foreign_key_violation
		return fmt.Sprintf("the %s names a %s that is not there, or is still needed by others: look at it again", thing, strings.TrimSuffix(strings.TrimSuffix(rule, " fkey"), " id"))
	case "23502": // not_null_violation
		return fmt.Sprintf("the %s needs its %s: give it", thing, strings.ReplaceAll(e.ColumnName, "_", " "))
	}
	return fmt.Sprintf("the %s is refused for its %s: give a value that is in bounds", thing, rule)
}
