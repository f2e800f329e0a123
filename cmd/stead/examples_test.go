package main

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// example is what the examples of one command's help are to say, line by line, and where they are run: in the demo
// workshop after all that stand before it in the help, or in a shop of its own.
type example struct {
	says  []string // a pattern for each line of the help
	first string   // a command that makes the shop ready for it
	shop  string   // the step of the README's first job up to which a shop of its own has come; empty: the demo workshop
	apart bool     // each line in a shop of its own
	where string   // a database of its own, empty, for what goes into no other
}

// helpSays are those of commands whose examples say more than that they are done, or need more than the demo workshop.
// Every example is run, whether it stands here or not.
var helpSays = map[string]example{
	"job lost":           {says: []string{`declined`, `lost for date`}, shop: "stead job quote", first: "stead job cancel 101 --why late"},
	"shop start":         {says: []string{`^the shop is set up`}, where: "started"},
	"stock take":         {says: []string{`^1 line counted`}},
	"stock sheet":        {says: []string{`^Bin D2`, `^2 sheets in sheet.csv`}},
	"stock excess":       {says: []string{`In excess: £|^Nothing is on the shelf`, `.`}},
	"bike set":           {says: []string{`^bike 1: blue touring bike, frame FT 4471 K`, `^bike 2: crimson road bike`}},
	"bill credit":        {says: []string{`^Credit note 1 for bill 1`}, shop: "stead bill make"},
	"bill list":          {says: []string{`Bill 1`}, shop: "stead bill make"},
	"bill make":          {says: []string{`^Bill 1`}, shop: "stead job close"},
	"bill pay":           {says: []string{`^paid, card`}, shop: "stead bill make"},
	"bill show":          {says: []string{`^total £`}, shop: "stead bill make"},
	"bike show":          {says: []string{`^bike 1: blue touring bike`}},
	"calendar link":      {says: []string{`^https://bench.example/calendar/[A-Z2-7]{26}$`}},
	"calendar links":     {says: []string{`the bench tablet`}},
	"calendar revoke":    {says: []string{`^link 1 is taken back`}},
	"calendar show":      {says: []string{`^BEGIN:VCALENDAR`}},
	"customer data":      {says: []string{`^all that is kept of customer 1 is in falkner.zip`}},
	"customer forget":    {says: []string{`^customer 1 is forgotten`}, shop: "stead bill make", first: "stead bill pay 1 --how card"},
	"customer find":      {says: []string{`^customer 1: Ines Falkner`, `.`, `bike 1: `}},
	"customer set":       {says: []string{`.`, `^customer 1: Ines Falkner-Roe`}},
	"customer show":      {says: []string{`^customer 1: Ines Falkner`}},
	"db backup":          {says: []string{`^everything is in stead-2026-12-01.backup`}},
	"db request":         {says: []string{`.`}},
	"db restore":         {says: []string{`.`}, where: "empty"},
	"db status":          {says: []string{`holds +\d+ parts, \d+ jobs`}},
	"demo":               {says: []string{`Placed as orders`}, where: "empty"},
	"describe":           {says: []string{`"bcd_mm":110`, `.*`, `.*`}},
	"export":             {says: []string{`^14 tables in books.zip`, `^14 tables in books`}},
	"import":             {says: []string{`^taken in: nothing, the tables are empty`}, where: "empty", first: "stead export books.zip --replace"},
	"fit instead":        {says: []string{`in the stead of Corvane ring 50T`, `in the stead of Corvane ring 50T 110 mm 5-bolt outer, black: fits|fits`}},
	"fit judge":          {says: []string{`"answer":"`, `1: fits`}},
	"fit pair":           {says: []string{`: fits`}},
	"fit place":          {says: []string{`outer chainring of job 101`, `as outer chainring: fits|: fits`}},
	"job amend":          {says: []string{`adds to version 1, which stays as agreed`}, shop: "stead job approve"},
	"job approve":        {says: []string{`^job 101 approved by Ines Falkner`, `quote|Quote`}, shop: "stead job quote", apart: true},
	"job cancel":         {says: []string{`^job 101 is cancelled(.|\n)*sold the bike`, `^job 101 is cancelled(.|\n)*^  return 701: 1 of ring 50T silver`}, shop: "stead order receive", apart: true},
	"job card":           {says: []string{`^Job 102: Oduya Bright`}},
	"job close":          {says: []string{`^job 101 is closed`, `^job 101 is closed`}, shop: "stead job use", apart: true},
	"job decline":        {says: []string{`Quote 2 for job 101`, `what was agreed on job 101 stays as it is`}, shop: "stead job approve"},
	"job discount":       {says: []string{`10 % off: club member`, `scratched`, `under warranty: fitted in June`}},
	"job if-opened":      {says: []string{`replace the chain, at most £45.00`, `nothing is agreed beforehand`}, shop: "stead job quote"},
	"job inspect":        {says: []string{`chain: `, `chain: `, `rear hub: adjust`}, shop: "stead job record"},
	"job leave-out":      {says: []string{`remembered as advised: replace the outer chainring`, `done now`}, shop: "stead job quote"},
	"job limit":          {says: []string{`.`}},
	"job list":           {says: []string{`101 +closed`, `.`, `.`, `Falkner`}},
	"job new":            {says: []string{`^job \d+: Ines Falkner's blue touring bike`, `^job \d+: Ines Falkner's red folder`}},
	"job options":        {says: []string{`.`}},
	"job own":            {says: []string{`“from my spares box”, brought`, `the workshop finds the outer chainring`}, shop: "stead job quote"},
	"job pay":            {says: []string{`^paid, cash: £20.00`}},
	"job quote":          {says: []string{`^Quote 1 for job 101`, `^Quote 2 for job 101(.|\n)*soonest`}, shop: "stead job inspect"},
	"job record":         {says: []string{`^outer chainring recorded`, `^bottom bracket recorded`}},
	"job show":           {says: []string{`^Job 101, closed`, `"state": "closed"`}},
	"job use":            {says: []string{`outer chainring: 1 of ring 50T silver`}, shop: "stead order receive"},
	"job why":            {says: []string{`cassette: .*8-speed`}},
	"job wishes":         {says: []string{`wish|Ines`}},
	"job work":           {says: []string{`bleed the brake, 35 min`, `fit the child seat`}},
	"measure balls":      {says: []string{`5/32 in or 4 mm`, `^These are 1/4 in balls`, `9 came out`}},
	"measure bearing":    {says: []string{`^This is a 6902`, `6902`}},
	"measure chain":      {says: []string{`^Worn 0.69 %`, `11/128`}},
	"measure chainring":  {says: []string{`110 BCD 5-bolt`, `104 BCD 4-bolt`}},
	"measure fork":       {says: []string{`1 1/8 inch`, `1 inch`}},
	"measure handlebar":  {says: []string{`26 mm|25.8`}},
	"measure rim":        {says: []string{`622 mm`}},
	"measure seatpost":   {says: []string{`27.2 mm`, `27.2 mm`}},
	"measure shell":      {says: []string{`bsa`}},
	"measure spoke":      {says: []string{`14g`}},
	"measure thread":     {says: []string{`1.37x24`, `M10x1`}},
	"measure tyre":       {says: []string{`622`}},
	"notes":              {says: []string{`"place":"chain"`}},
	"order acknowledge":  {says: []string{`.`, `.`}, shop: "stead order place"},
	"order told":         {says: []string{`^told by telephone, `}, shop: "stead order place"},
	"order cancel":       {says: []string{`501`}, shop: "stead order place"},
	"order invoice":      {says: []string{`.`}, shop: "stead order receive"},
	"order late":         {says: []string{`.`}},
	"order list":         {says: []string{`501`}},
	"order paper":        {says: []string{`501`, `order-533.csv`}},
	"order place":        {says: []string{`placed|nothing to order`, `.`}},
	"order plan":         {says: []string{`.`, `"supplier"`}},
	"order receive":      {says: []string{`^delivery of order 501 booked in; the order is closed`, `still to come: 1 of ring 50T silver`, `the order is closed`}, shop: "stead order place", apart: true},
	"order show":         {says: []string{`^order 501 to`}},
	"part add":           {says: []string{`^part \d+: `}},
	"part find":          {says: []string{`50T`, `6902`}},
	"part show":          {says: []string{`.`, `bcd_mm +110 mm`}},
	"person add":         {says: []string{`^Tamsin Reeve may sign in: owner`, `^Bram Oakes may sign in: mechanic`}},
	"person leave":       {says: []string{`^Bram Oakes works here no more`}},
	"person list":        {says: []string{`Tamsin Reeve +owner`}},
	"person password":    {says: []string{`has a new password`}},
	"person pin":         {says: []string{`has a new PIN`}},
	"photo add":          {says: []string{`^photo \d+ of job 101, chain, 400 × 300 pixels, \d+ kB: hooked; the customer sees it`, `^photo \d+ of bike 1`, `^photo \d+ of part 71`}},
	"photo list":         {says: []string{`\d+ +job 101, chain +hooked +yes`, `\d+ +bike 1`}},
	"photo save":         {says: []string{`^photo 1 in hooked.jpg`}},
	"photo set":          {says: []string{`^photo 1 of job 101, chain, 640 × 480 pixels, \d+ kB: worn: the gauge drops in$`, `hooked teeth`}},
	"photo take-off":     {says: []string{`^photo 2 of job 101, chain is taken off`}},
	"scan":               {says: []string{`^part 1: .*chain.*; \d+ free`, `^bin A1; \d+ parts in it`, `^the code drawer 7/B is of part 71`}},
	"place list":         {says: []string{`crank.outer-ring +chainring`}},
	"place show":         {says: []string{`bcd_mm`}},
	"post again":         {says: []string{`^nothing was left unsent`}},
	"post bill":          {says: []string{`^message 1, bill 1 to ines@falkner.example: waits to be sent`}, shop: "stead bill make", first: postServer},
	"post cancel":        {says: []string{`^message 1 is cancelled`}, shop: "stead job quote", first: postServer + " && stead post quote 101 --to ines@falkner.example"},
	"post list":          {says: []string{`^No server for outgoing mail is set up`}},
	"post order":         {says: []string{`^message 1, order 501 to orders@harbour.example`}, shop: "stead order place", first: postServer},
	"post quote":         {says: []string{`^message 1, quote 1 to ines@falkner.example`}, shop: "stead job quote", first: postServer},
	"post send":          {says: []string{`^nothing waits`}, where: "mail", first: postServer},
	"post server":        {says: []string{`^Mail goes from bench@tannery.example by mail.example, port 587, account bench,\s+by TLS after STARTTLS`, `^Mail goes`}, where: "mail"},
	"pricelist alike":    {says: []string{`.`}},
	"pricelist columns":  {says: []string{`.`, `.`}},
	"pricelist differ":   {says: []string{`stay two`}},
	"pricelist history":  {says: []string{`.`}},
	"pricelist load":     {says: []string{`.`, `.`}},
	"pricelist preview":  {says: []string{`.`}},
	"pricelist review":   {says: []string{`.`, `.`}},
	"pricelist same":     {says: []string{`are one`}},
	"pricelist split":    {says: []string{`232`, `.`}},
	"pricelist words":    {says: []string{`.*`}},
	"print agreement":    {says: []string{`^1 paper in agreement.pdf`}},
	"print bill":         {says: []string{`^1 paper in bill.pdf`}, shop: "stead bill make"},
	"print card":         {says: []string{`^1 paper in card.pdf`}},
	"print label":        {says: []string{`^1 label in bins.pdf`, `^1 label in part.pdf`, `^1 label in bike.pdf`}},
	"print order":        {says: []string{`^1 paper in order.pdf`}},
	"print sheet":        {says: []string{`^1 paper in sheet.pdf`}},
	"print quote":        {says: []string{`^1 paper in quote.pdf`, `^2 papers in roll.pdf`}},
	"reorder":            {says: []string{`^Money now: `, `^Money now: `}},
	"reorder as-advised": {says: []string{`as advised again`}},
	"reorder at-least":   {says: []string{`always at least 12`}},
	"reorder less":       {says: []string{`1 taken`}},
	"reorder never":      {says: []string{`never ordered for the shelf`}},
	"reorder snooze":     {says: []string{`not asked again before 2027-02-01`}},
	"reorder take":       {says: []string{`taken`, `.*`}},
	"rule list":          {says: []string{`chainring.bcd`, `chainring.bcd`}},
	"rule show":          {says: []string{`bolt`}},
	"serve":              {says: []string{`signed in as Jory Penhale`, `the workshop is at http://127.0.0.1:\d+`}, where: "empty"},
	"shop bin":           {says: []string{`^bin D2`}},
	"shop closed":        {says: []string{`.`}},
	"shop labour":        {says: []string{`^fit and size chain: 15 minutes, £12.00 before tax`, `^fit chainring: 20 minutes, £15.00 before tax`}},
	"shop rate":          {says: []string{`1.16`}},
	"shop reopen":        {says: []string{`.`}},
	"shop set":           {says: []string{`settings of Tannery Yard saved`}},
	"shop show":          {says: []string{`Tannery Yard`}},
	"shop tax":           {says: []string{`^VAT 20 %`}},
	"shop weigh":         {says: []string{`^finish counts 5`, `.`}},
	"simulate":           {says: []string{`^2 parts, 3 weeks of history`, `weeks of history, 26 weeks played`, `^RULE(.|\n)*^set `}},
	"stock count":        {says: []string{`.`}},
	"stock history":      {says: []string{`opening`}},
	"stock keep":         {says: []string{`^Advised: `, `.`, `left, up to 6`, `^Advised: `}},
	"stock list":         {says: []string{`^BIN`}},
	"stock move":         {says: []string{`A2`}},
	"stock open":         {says: []string{`^tub 1: Vexby bearing grease, 400 g tub, open on the bench`}},
	"stock receive":      {says: []string{`144`}},
	"stock scrap":        {says: []string{`4`}},
	"stock sell":         {says: []string{`^2 of .* sold`, `^total £`}},
	"stock tubs":         {says: []string{`Vexby bearing grease`, `^tub 1: 50 % left`}},
	"stock use":          {says: []string{`18 of Kestle`}},
	"supplier add":       {says: []string{`Harbour Lane Cycle Trade`}, where: "empty"},
	"supplier closed":    {says: []string{`.`}},
	"supplier list":      {says: []string{`harbour`}},
	"supplier offer":     {says: []string{`.`, `G-900`}},
	"supplier reopen":    {says: []string{`.`}},
	"supplier set":       {says: []string{`.`}},
	"supplier show":      {says: []string{`Harbour Lane`}},

	// What is corrected, answered, returned or taken back.
	"job answer":       {says: []string{`quote 1 of job 101 asks nothing`, `^known of part 1: ring 50T silver(.|\n)*^Quote 2 for job 101`, `^Quote 3`, `^Quote 4 for job 101`}, shop: "stead job quote"},
	"bike forget-wish": {says: []string{`^wish 1 is forgotten`}},
	"job release":      {says: []string{`job 101 is cancelled`, `1 pieces that were held for job 101 are free`}, shop: "stead order receive"},
	"job reopen":       {says: []string{`^job 101 is open again`}, shop: "stead job close"},
	"job set":          {says: []string{`^job 101 corrected`}, shop: "stead job new"},
	"job unbook":       {says: []string{`^job 101 is taken back`}, shop: "stead job new"},
	"return credit":    {says: []string{`.`, `^return 701: (.*\n)? *(.*; )?credited £24.57`}, shop: "stead order receive"},
	"return customer":  {says: []string{`^1 of ring 50T silver back from job 101`}, shop: "stead job use"},
	"return list":      {says: []string{`701 +Northmoor`}},
	"return send":      {says: []string{`.`, `^return 701: 1 of ring 50T silver back to Harbour Lane Cycle Trade`}, shop: "stead order receive"},
	"job vouch":        {says: []string{`answers for`, `as before`}},
	"part set":         {says: []string{`^part \d+: Corvane ring 50T`, `^part \d+`, `^part \d+`}},
	"part move":        {says: []string{`^the supplier's code harbour:HL11567 is now of part 71`}},
}

// postServer sets up a server that is nowhere.
const postServer = "stead post server mail.example --sender bench@tannery.example"

// TestExamples runs every example of every command's help as a reader would: it is done, and says what it is to say.
func TestExamples(t *testing.T) {
	say, db := inDemo(t), testdb.New(t)
	exampleFiles(t)
	seen := map[string]bool{}
	ours(newRoot(), func(cmd *cobra.Command) {
		name := strings.TrimPrefix(cmd.CommandPath(), "stead ")
		if _, itself := helpSays[name]; cmd.HasSubCommands() && !itself {
			return // a group shows its children's
		}
		seen[name] = true
		t.Run(name, func(t *testing.T) {
			e := helpSays[name]
			lines := strings.Split(strings.ReplaceAll(cmd.Example, "\\\n", " "), "\n")
			ask := say
			for i, line := range lines {
				switch {
				case e.where != "" && (i == 0 || e.apart):
					ask = inShop(t, db, "")
				case e.shop != "" && (i == 0 || e.apart):
					ask = inShop(t, db, e.shop)
				}
				if e.first != "" && (i == 0 || e.apart) {
					for step := range strings.SplitSeq(e.first, " && ") {
						code, said := shell(ask, step)
						require.Zero(t, code, "%s\n%s", step, said)
					}
				}
				code, said := shell(ask, anyPort(line))
				require.Zero(t, code, "%s\n%s", line, said)
				if i < len(e.says) {
					require.Regexp(t, `(?m)`+e.says[i], said, line)
				}
			}
		})
	})
	for name := range helpSays {
		require.True(t, seen[name], "there is no command %s any more", name)
	}
}

// anyPort lets what serves listen where nobody else does: the workshop may be serving its pages while the tests run.
func anyPort(line string) string {
	if !strings.HasPrefix(strings.TrimSpace(line), "stead serve") {
		return line
	}
	return strings.ReplaceAll(line, "--listen 127.0.0.1:8080", "") + " --listen 127.0.0.1:0"
}

// exampleFiles are the files that the help speaks of, besides those of inDemo.
func exampleFiles(t *testing.T) {
	list, err := os.ReadFile(filepath.Join(readmeFolder, "testdata/demo/lists/harbour-december.csv"))
	require.NoError(t, err)
	for name, text := range map[string]string{
		"harbour-december.csv": string(list), "harbour-january.csv": string(list),
		"questions.jsonl":  `{"id":"1","kind":"pair","a":{"family":"chain","spec":{"speeds":"9"}},"b":{"family":"cassette","spec":{"speeds":"9"}}}` + "\n",
		"descriptions.txt": "RING 50T 110 BCD 5 BOLT\n",
		"sales.csv":        "day,part,pieces,price\n0,ring,1,8\n4,tube,2,2.50\n11,tube,1,2.50\n16,ring,1,8\n23,tube,3,2.50\n28,ring,1,8\n",
		"counted.csv":      "bin,part,counted\nD2,KES-B14-G25,190\n",
		"dictated.txt":     "chain's at point nine\n",
		"password.txt":     "four worn chainrings\n",
		"pin.txt":          "2580\n",
		"notes.jsonl":      `{"id":"1","note":"chain's at point nine","fitted":{"chain":{}}}` + "\n",
	} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
	photo, err := os.Create("teeth.jpg")
	require.NoError(t, err)
	require.NoError(t, jpeg.Encode(photo, image.NewGray(image.Rect(0, 0, 400, 300)), nil))
	require.NoError(t, photo.Close())
}

// shell runs one line of an example, with what a shell does for it: `echo … |`, `< file` and `> file`.
func shell(say func(args ...string) (int, string), line string) (code int, said string) {
	line = strings.TrimSpace(line)
	if before, after, piped := strings.Cut(line, " | "); piped {
		return sayWith(say, words(before)[1]+"\n", words(after)[1:])
	}
	if before, file, from := strings.Cut(line, " < "); from {
		text, err := os.ReadFile(file)
		if err != nil {
			return 1, err.Error()
		}
		return sayWith(say, string(text), words(before)[1:])
	}
	line, file, into := strings.Cut(line, " > ")
	code, said = say(words(line)[1:]...)
	if into && code == 0 {
		if err := os.WriteFile(file, []byte(said), 0o600); err != nil {
			return 1, err.Error()
		}
	}
	return code, said
}

// sayWith runs a command that reads standard input and asks no database.
func sayWith(_ func(args ...string) (int, string), input string, args []string) (int, string) {
	var out bytes.Buffer
	code := run(context.Background(), append(args, "--database", "demo"), strings.NewReader(input), &out, &out)
	return code, out.String()
}

// shops counts those of inShop.
var shops int

// inShop gives a shop of its own, beside a test's database, in which the README's first job has come as far as a step,
// inclusive; none: a database that nobody has opened yet.
func inShop(t *testing.T, db *pgxpool.Pool, upTo string) (say func(args ...string) (int, string)) {
	shops++
	own := fmt.Sprint(db.Config().ConnConfig.Database, "_shop", shops)
	dropAfter(t, db, own)
	if upTo == "" {
		_, err := db.Exec(t.Context(), `CREATE DATABASE `+own)
		require.NoError(t, err)
	} else {
		testdb.Copy(t, asFarAs(t, db, upTo), own)
	}
	return inDatabase(t, db, own)
}

// inDatabase gives a way to run commands in a database of the server of a test's.
func inDatabase(t *testing.T, db *pgxpool.Pool, name string) (say func(args ...string) (int, string)) {
	address, err := url.Parse(db.Config().ConnString())
	require.NoError(t, err)
	address.Path = "/" + name
	return func(args ...string) (int, string) {
		if alone(args) {
			closeKept(name)
		}
		var out bytes.Buffer
		code := run(t.Context(), append(args, "--database", address.String()), strings.NewReader(""), &out, &out)
		return code, out.String()
	}
}

// asFarAs is a database to copy, in which the README's first job has come as far as a step, inclusive: each step is taken
// once, in a copy of what the one before has left.
func asFarAs(t *testing.T, db *pgxpool.Pool, upTo string) (name string) {
	steps := firstJob(t)
	last := slices.IndexFunc(steps, func(step string) bool { return strings.HasPrefix(step, upTo) })
	require.GreaterOrEqual(t, last, 0, "the README's first job has no step %s", upTo)
	name = testdb.Schema(t)
	for i, step := range steps[:last+1] {
		what := fmt.Sprint("step ", i, " of the README's first job at ", os.Getenv("STEAD_NOW"))
		if left[what] == "" {
			next := fmt.Sprint(db.Config().ConnConfig.Database, "_step", i)
			testdb.Copy(t, name, next)
			code, said := inDatabase(t, db, next)(words(step)[1:]...)
			require.Zero(t, code, "%s\n%s", step, said)
			closeKept(next)
			left[what] = next
		}
		name = left[what]
	}
	return name
}

// dropAfter drops a database when a test has ended.
func dropAfter(t *testing.T, db *pgxpool.Pool, name string) {
	t.Cleanup(func() {
		closeKept(name)
		_, err := db.Exec(context.Background(), `DROP DATABASE IF EXISTS `+name+` WITH (FORCE)`)
		require.NoError(t, err)
	})
}

// left are the databases that asLeft and asFarAs keep, by what they hold and the moment at which that was done.
var left = map[string]string{}

// asLeft gives a test a database of its own, beside that of db and with an ending to its name, as make leaves it. It is
// made once and then copied. No test that uses it is parallel.
func asLeft(t *testing.T, db *pgxpool.Pool, ending, what string, make func()) {
	own := db.Config().ConnConfig.Database + ending
	dropAfter(t, db, own)
	what += " at " + os.Getenv("STEAD_NOW")
	from, made := left[what]
	if !made {
		make()
		closeKept(own)
		from = own + "_left"
		_, err := db.Exec(t.Context(), `ALTER DATABASE `+own+` RENAME TO `+from)
		require.NoError(t, err)
		left[what] = from
	}
	testdb.Copy(t, from, own)
	var remark *string // a copy has none
	require.NoError(t, db.QueryRow(t.Context(), `SELECT shobj_description(oid, 'pg_database') FROM pg_database WHERE datname = $1`, from).Scan(&remark))
	if remark != nil {
		_, err := db.Exec(t.Context(), `COMMENT ON DATABASE `+own+` IS '`+*remark+`'`)
		require.NoError(t, err)
	}
}

// readmeFolder is where the README stands; a test may work in another folder.
var readmeFolder, _ = filepath.Abs("../..")

// readmeNow is the moment at which the README looks at the demo workshop.
const readmeNow = "2026-11-25T09:30:00Z"

// readme is the README as a list of its blocks of code, in order.
func readme(t *testing.T) (text string, blocks []string) {
	data, err := os.ReadFile(filepath.Join(readmeFolder, "README.md"))
	require.NoError(t, err)
	text = string(data)
	for _, m := range regexp.MustCompile("(?s)```\n(.*?)```").FindAllStringSubmatch(text, -1) {
		blocks = append(blocks, m[1])
	}
	return text, blocks
}

// firstJob are the commands of the README's first real job.
func firstJob(t *testing.T) (steps []string) {
	_, blocks := readme(t)
	i := slices.IndexFunc(blocks, func(b string) bool { return strings.HasPrefix(b, "stead shop start") })
	require.GreaterOrEqual(t, i, 0, "the README has no first real job")
	for _, line := range strings.Split(strings.TrimSpace(strings.ReplaceAll(blocks[i], "\\\n", " ")), "\n") {
		steps = append(steps, strings.Split(line, " && ")...)
	}
	return steps
}

// TestReadmeFirstJob runs the README's first job from an empty shop to the bike handed back.
func TestReadmeFirstJob(t *testing.T) {
	t.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
	say := inShop(t, testdb.New(t), "stead job close")
	code, said := say("job", "show", "101")
	require.Zero(t, code)
	require.Contains(t, said, "Job 101, closed: Ines Falkner's blue touring bike")
	for _, step := range firstJob(t) {
		require.NotRegexp(t, `supplier offer \S+ \S+ \d+ `, step, "a part is named by what it is called, not by the number that it happens to get")
	}
}

// TestReadmeInTheDemo compares what the README shows of the demo workshop with what is shown there; … stands for what is
// left out.
func TestReadmeInTheDemo(t *testing.T) {
	t.Setenv("STEAD_NOW", readmeNow)
	say := inDemo(t)
	text, blocks := readme(t)
	for _, block := range blocks {
		if strings.HasPrefix(block, "Quote 1 for job 101") {
			t.Run("the demo itself", func(t *testing.T) {
				var out bytes.Buffer
				require.Zero(t, run(t.Context(), []string{"demo"}, strings.NewReader(""), &out, &out))
				for part := range strings.SplitSeq(block, "…\n") {
					requireShown(t, part, out.String())
				}
			})
		}
		command, printed, shown := strings.Cut(strings.ReplaceAll(block, "\\\n", " "), "\n")
		line, prompt := strings.CutPrefix(command, "$ ")
		if !prompt || !shown {
			continue
		}
		t.Run(line, func(t *testing.T) {
			code, said := shell(say, strings.TrimSuffix(line, " --database demo"))
			require.Zero(t, code, said)
			for part := range strings.SplitSeq(printed, "…\n") {
				requireShown(t, part, said)
			}
		})
	}
	root := newRoot()
	for _, m := range regexp.MustCompile("`stead ([^`]+)`").FindAllStringSubmatch(text, -1) {
		args := words(strings.ReplaceAll(m[1], "\n", " "))
		t.Run(m[1], func(t *testing.T) {
			cmd, rest, err := root.Find(args)
			require.NoError(t, err)
			require.True(t, cmd.HasParent(), "there is no such command")
			for _, a := range rest {
				if name, flag := strings.CutPrefix(a, "--"); flag && name != "help" { // every command has that
					require.NotNil(t, cmd.Flags().Lookup(name), "it has no --%s", name)
				}
			}
			if strings.HasSuffix(m[1], "--database demo") {
				code, said := say(args[:len(args)-2]...)
				require.Zero(t, code, said)
			}
		})
	}
}

// requireShown checks that what the README shows is there. Which day a forecast names, and what it weighs how much, moves
// with the forecasting; it is not held to.
func requireShown(t *testing.T, shown, printed string) {
	t.Helper()
	steady := func(text string) string {
		text = strings.Join(strings.Fields(text), " ")
		text = regexp.MustCompile(`(Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day \d+ \w+`).ReplaceAllString(text, "DAY")
		return regexp.MustCompile(`forecast rests .* on average`).ReplaceAllString(text, "forecast rests on SHARES")
	}
	require.Contains(t, steady(printed), steady(shown), "the README shows something else")
}
