package pages

import (
	"context"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"fmt"
	"hash"
	"html/template"
	"net/url"

	"github.com/jackc/pgx/v5"

	"stead/cmd/stead/internal/desk"
	"stead/cmd/stead/internal/mailing"
	"stead/inventory/post"
	"stead/pricing"
)

// secretFor makes the secret of a link from the key of the request that makes it: a form that is sent twice makes one link,
// and who reads the key in the database cannot make it out.
func (s *Server) secretFor(key string) string {
	sum := hmac.New(sha256.New, s.salt)
	sum.Write([]byte(key))
	return secretOf(sum)
}

// secretLength is how many letters a link's secret has: see [pricing.MakeLink].
const secretLength = 26

func secretOf(sum hash.Hash) string {
	return base32.StdEncoding.EncodeToString(sum.Sum(nil))[:secretLength]
}

// secretAfter makes the secret of the link to what was planned when an answer by a link declined something. It follows from
// the first secret alone, which the database does not have: who keeps the first message finds the newest quote by it.
func secretAfter(secret string) string {
	sum := hmac.New(sha256.New, []byte(secret[:min(len(secret), secretLength)]))
	sum.Write([]byte("declined"))
	return secretOf(sum)
}

// sendPage sends a quote: it makes the link, shows it once, and takes links back.
type sendPage struct {
	Job     desk.Job
	Quote   *desk.Quote // what they are asked
	Links   []pricing.Link
	Sent    *sentLink // a link just made
	Asked   []pricing.Question
	CanSend bool
	Mail    mailForm
	Post    []messageLine
}

// sentLink is a link in all the ways in which it goes to a customer, with the words filled in.
type sentLink struct {
	Address       string
	Code          Code
	Mail, Message template.URL // empty where there is no address or number
	Words         string       // whole, to copy
}

func showSend(v *visit) (string, any, error) {
	id, err := v.number("job")
	if err != nil {
		return "", nil, err
	}
	p := sendPage{}
	if p.Job, err = desk.LoadJob(v.ctx, v.db(), id, v.now); err != nil {
		return "", nil, err
	}
	if p.Links, err = pricing.LinksOf(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	if p.Asked, err = pricing.QuestionsOf(v.ctx, v.db(), id); err != nil {
		return "", nil, err
	}
	p.Quote = p.Job.Asked()
	p.CanSend = p.Quote != nil && p.Quote.State == pricing.Open && len(p.Quote.Options) > 0
	p.Post = messageLines(p.Job.Clock, p.Job.Post)
	if p.CanSend {
		words := desk.QuoteMail(v.shop, p.Quote.Quote, p.Job.Clock, v.s.Public+"/q/…")
		if p.Mail, err = v.mailForm("quote", pricing.QuoteTitle(p.Quote.Version), p.Job.Bike.Customer.Email, words); err != nil {
			return "", nil, err
		}
	}
	if secret := v.asked("link"); secret != "" {
		link, err := pricing.FollowLink(v.ctx, v.db(), secret, v.today())
		if err == nil && link.JobID == id {
			p.Sent, err = v.sent(p.Job, secret)
		}
		if err != nil && !errors.As(err, new(*pricing.LinkError)) {
			return "", nil, err
		}
	}
	return fmt.Sprintf("Send the quote of job %d", id), p, nil
}

// sent fills in the words in which a link goes to a customer.
func (v *visit) sent(job desk.Job, secret string) (*sentLink, error) {
	customer := job.Bike.Customer
	l := &sentLink{Address: v.s.Public + "/q/" + secret}
	m := desk.QuoteMail(v.shop, job.Asked().Quote, job.Clock, l.Address)
	l.Words = m.Text()
	var err error
	if l.Code, err = QR(l.Address); err != nil {
		return nil, err
	}
	if customer.Email != "" {
		l.Mail = template.URL("mailto:" + url.PathEscape(customer.Email) + "?subject=" + url.PathEscape(m.Subject) + "&body=" + url.PathEscape(l.Words))
	}
	if customer.Phone != "" {
		l.Message = template.URL("sms:" + figuresOf(customer.Phone) + "?body=" + url.PathEscape(m.Message()))
	}
	return l, nil
}

// figuresOf is a telephone number as a telephone dials it.
func figuresOf(phone string) string {
	out := []rune{}
	for _, r := range phone {
		if r >= '0' && r <= '9' || r == '+' && len(out) == 0 {
			out = append(out, r)
		}
	}
	return string(out)
}

func makeLink(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	version := int(t.number64("version"))
	if err := t.wrong(); err != nil {
		return "", err
	}
	secret := v.s.secretFor(t.key)
	err = v.do("sent the quote to the customer", func(ctx context.Context, tx pgx.Tx, _ string) error {
		_, err := pricing.MakeLink(ctx, tx, id, version, secret, v.now)
		return err
	})
	return fmt.Sprintf("/jobs/%d/send?link=%s", id, secret), err
}

// mailQuote sends the newest quote by e-mail, with a link of its own and the paper.
func mailQuote(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	l, secret := t.letter(), v.s.secretFor(t.key)
	l.Link = v.s.Public + "/q/" + secret
	return v.send(fmt.Sprintf("/jobs/%d/send", id), "the quote", func(ctx context.Context, tx pgx.Tx) (post.Draft, error) {
		q, err := pricing.ToSend(ctx, tx, id, v.today())
		if err != nil {
			return post.Draft{}, err
		}
		if _, err := pricing.MakeLink(ctx, tx, id, q.Version, secret, v.now); err != nil {
			return post.Draft{}, err
		}
		return mailing.Quote(ctx, tx, id, l, v.now)
	})
}

func revokeLink(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	link := t.number64("row")
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/jobs/%d/send", id), "the link is taken back", v.do("took a link back", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.RevokeLink(ctx, tx, id, link, v.now)
	}))
}

func answerQuestion(v *visit, t *typed) (string, error) {
	id, err := v.number("job")
	if err != nil {
		return "", err
	}
	question := t.number64("row")
	answer := t.text("answer")
	if answer == "" {
		t.mark("answer", "write the answer")
	}
	if err := t.wrong(); err != nil {
		return "", err
	}
	return v.done(fmt.Sprintf("/jobs/%d/send", id), "the answer stands on their page", v.do("answered a question", func(ctx context.Context, tx pgx.Tx, _ string) error {
		return pricing.AnswerQuestion(ctx, tx, id, question, answer, v.person.Name, v.now)
	}))
}
