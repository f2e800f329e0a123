package main

import (
	"bytes"
	"context"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/require"

	"stead/migrations/testdb"
)

// example is what the examples of one command's help are to say, line by line, and where they are run: in the demo
// workshop after all that stand before it in the help, or in a shop of its own.
type example struct {
	says  []string // a pattern for each line of the help
	shop  string   // the step of the README's first job up to which a shop of its own has come; empty: the demo workshop
	apart bool     // each line in a shop of its own
	where string   // a database of its own, empty, for what goes into no other
}

// helpSays are those of commands whose examples say more than that they are done, or need more than the demo workshop.
// Every example is run, whether it stands here or not.
var helpSays = map[string]example{
	"db backup":         {says: []string{`^everything is in stead-2026-12-01.backup`}},
	"db request":        {says: []string{`.`}},
	"db restore":        {says: []string{`.`}, where: "empty"},
	"db status":         {says: []string{`holds +\d+ parts, \d+ jobs`}},
	"demo":              {says: []string{`Placed as orders`}, where: "empty"},
	"describe":          {says: []string{`"bcd_mm":110`, `.*`, `.*`}},
	"fit instead":       {says: []string{`in the stead of Corvane ring 50T`, `in the stead of Corvane ring 50T 110 mm 5-bolt outer, black: fits|fits`}},
	"fit judge":         {says: []string{`"answer":"`, `1: fits`}},
	"fit pair":          {says: []string{`: fits`}},
	"fit place":         {says: []string{`outer chainring of job 101`, `as outer chainring: fits|: fits`}},
	"job approve":       {says: []string{`^job 101 approved by Ines Falkner`, `quote|Quote`}, shop: "stead job quote", apart: true},
	"job cancel":        {says: []string{`^job 101 is cancelled(.|\n)*sold the bike`}, shop: "stead job quote"},
	"job close":         {says: []string{`^job 101 is closed`, `^job 101 is closed`}, shop: "stead job use", apart: true},
	"job inspect":       {says: []string{`chain: `, `chain: `, `rear hub: adjust`}, shop: "stead job record"},
	"job limit":         {says: []string{`.`}},
	"job list":          {says: []string{`101 +closed`}},
	"job new":           {says: []string{`^job \d+: Ines Falkner's blue touring bike`}},
	"job options":       {says: []string{`.`}},
	"job quote":         {says: []string{`^Quote 1 for job 101`}, shop: "stead job inspect"},
	"job record":        {says: []string{`^outer chainring recorded`, `^bottom bracket recorded`}},
	"job show":          {says: []string{`^Job 101, closed`, `"state": "closed"`}},
	"job use":           {says: []string{`outer chainring: 1 of ring 50T silver`}, shop: "stead order receive"},
	"job why":           {says: []string{`cassette: .*8-speed`}},
	"job wishes":        {says: []string{`wish|Ines`}},
	"measure balls":     {says: []string{`5/32 in or 4 mm`, `^These are 1/4 in balls`, `9 came out`}},
	"measure bearing":   {says: []string{`^This is a 6902`, `6902`}},
	"measure chain":     {says: []string{`^Worn 0.69 %`, `11/128`}},
	"measure chainring": {says: []string{`110 BCD 5-bolt`, `104 BCD 4-bolt`}},
	"measure fork":      {says: []string{`1 1/8 inch`, `1 inch`}},
	"measure handlebar": {says: []string{`26 mm|25.8`}},
	"measure rim":       {says: []string{`622 mm`}},
	"measure seatpost":  {says: []string{`27.2 mm`, `27.2 mm`}},
	"measure shell":     {says: []string{`bsa`}},
	"measure spoke":     {says: []string{`14g`}},
	"measure thread":    {says: []string{`1.37x24`, `M10x1`}},
	"measure tyre":      {says: []string{`622`}},
	"notes":             {says: []string{`"place":"chain"`}},
	"order acknowledge": {says: []string{`.`, `.`}, shop: "stead order place"},
	"order cancel":      {says: []string{`501`}, shop: "stead order place"},
	"order invoice":     {says: []string{`.`}, shop: "stead order receive"},
	"order late":        {says: []string{`.`}},
	"order list":        {says: []string{`501`}},
	"order paper":       {says: []string{`501`, `order-533.csv`}},
	"order place":       {says: []string{`placed|nothing to order`, `.`}},
	"order plan":        {says: []string{`.`, `"supplier"`}},
	"order receive":     {says: []string{`^delivery of order 501 booked in; the order is closed`, `still to come: 1 of ring 50T silver`}, shop: "stead order place", apart: true},
	"order show":        {says: []string{`^order 501 to`}},
	"part add":          {says: []string{`^part \d+: `}},
	"part find":         {says: []string{`50T`, `6902`}},
	"part show":         {says: []string{`.`, `bcd_mm +110 mm`}},
	"place list":        {says: []string{`crank.outer-ring +chainring`}},
	"place show":        {says: []string{`bcd_mm`}},
	"pricelist alike":   {says: []string{`.`}},
	"pricelist columns": {says: []string{`.`, `.`}},
	"pricelist differ":  {says: []string{`stay two`}},
	"pricelist history": {says: []string{`.`}},
	"pricelist load":    {says: []string{`.`, `.`}},
	"pricelist preview": {says: []string{`.`}},
	"pricelist review":  {says: []string{`.`, `.`}},
	"pricelist same":    {says: []string{`are one`}},
	"pricelist split":   {says: []string{`232`, `.`}},
	"pricelist words":   {says: []string{`.*`}},
	"reorder":           {says: []string{`^Money now: `, `^Money now: `}},
	"rule list":         {says: []string{`chainring.bcd`, `chainring.bcd`}},
	"rule show":         {says: []string{`bolt`}},
	"shop bin":          {says: []string{`^bin D2`}},
	"shop closed":       {says: []string{`.`}},
	"shop labour":       {says: []string{`.`}},
	"shop rate":         {says: []string{`1.16`}},
	"shop reopen":       {says: []string{`.`}},
	"shop set":          {says: []string{`settings of Tannery Yard saved`}},
	"shop show":         {says: []string{`Tannery Yard`}},
	"shop tax":          {says: []string{`^VAT 20 %`}},
	"shop weigh":        {says: []string{`^finish counts 5`, `.`}},
	"simulate":          {says: []string{`^2 parts, 3 weeks of history`, `weeks of history, 26 weeks played`}},
	"stock count":       {says: []string{`.`}},
	"stock history":     {says: []string{`opening`}},
	"stock keep":        {says: []string{`^Advised: `, `.`, `left, up to 6`, `^Advised: `}},
	"stock sell":        {says: []string{`^2 of .* sold`}},
	"stock list":        {says: []string{`^BIN`}},
	"stock move":        {says: []string{`A2`}},
	"stock receive":     {says: []string{`144`}},
	"stock scrap":       {says: []string{`4`}},
	"stock use":         {says: []string{`18 of Kestle`}},
	"supplier add":      {says: []string{`Harbour Lane Cycle Trade`}, where: "empty"},
	"supplier closed":   {says: []string{`.`}},
	"supplier list":     {says: []string{`harbour`}},
	"supplier offer":    {says: []string{`.`, `G-900`}},
	"supplier reopen":   {says: []string{`.`}},
	"supplier set":      {says: []string{`.`}},
	"supplier show":     {says: []string{`Harbour Lane`}},
}

// TestExamples runs every example of every command's help as a reader would: it is done, and says what it is to say.
func TestExamples(t *testing.T) {
	say := inDemo(t)
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
					ask = inShop(t, "")
				case e.shop != "" && (i == 0 || e.apart):
					ask = inShop(t, e.shop)
				}
				code, said := shell(ask, line)
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

// exampleFiles are the files that the help speaks of, besides those of inDemo.
func exampleFiles(t *testing.T) {
	list, err := os.ReadFile(filepath.Join(readmeFolder, "testdata/demo/lists/harbour-december.csv"))
	require.NoError(t, err)
	for name, text := range map[string]string{
		"harbour-december.csv": string(list), "harbour-january.csv": string(list),
		"questions.jsonl":  `{"id":"1","kind":"pair","a":{"family":"chain","spec":{"speeds":"9"}},"b":{"family":"cassette","spec":{"speeds":"9"}}}` + "\n",
		"descriptions.txt": "RING 50T 110 BCD 5 BOLT\n",
		"sales.csv":        "day,part,pieces,price\n0,ring,1,8\n4,tube,2,2.50\n11,tube,1,2.50\n16,ring,1,8\n23,tube,3,2.50\n28,ring,1,8\n",
		"dictated.txt":     "chain's at point nine\n",
		"notes.jsonl":      `{"id":"1","note":"chain's at point nine","fitted":{"chain":{}}}` + "\n",
	} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	}
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

// inShop gives a shop of its own in which the README's first job has come as far as a step, inclusive; none: a database that nobody has opened yet.
func inShop(t *testing.T, upTo string) (say func(args ...string) (int, string)) {
	db := testdb.New(t)
	say = func(args ...string) (int, string) {
		var out bytes.Buffer
		code := run(t.Context(), append(args, "--database", db.Config().ConnString()), strings.NewReader(""), &out, &out)
		return code, out.String()
	}
	if upTo == "" {
		bare := pgx.Identifier{db.Config().ConnConfig.Database + "_bare"}.Sanitize()
		_, err := db.Exec(t.Context(), `CREATE DATABASE `+bare)
		require.NoError(t, err)
		t.Cleanup(func() {
			_, err := db.Exec(context.Background(), `DROP DATABASE `+bare+` WITH (FORCE)`)
			require.NoError(t, err)
		})
		address, err := url.Parse(db.Config().ConnString())
		require.NoError(t, err)
		address.Path += "_bare"
		return func(args ...string) (int, string) {
			var out bytes.Buffer
			code := run(t.Context(), append(args, "--database", address.String()), strings.NewReader(""), &out, &out)
			return code, out.String()
		}
	}
	steps := firstJob(t)
	last := slices.IndexFunc(steps, func(step string) bool { return strings.HasPrefix(step, upTo) })
	require.GreaterOrEqual(t, last, 0, "the README's first job has no step %s", upTo)
	for _, step := range steps[:last+1] {
		code, said := say(words(step)[1:]...)
		require.Zero(t, code, "%s\n%s", step, said)
	}
	return say
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
	i := slices.IndexFunc(blocks, func(b string) bool { return strings.HasPrefix(b, "stead shop set") })
	require.GreaterOrEqual(t, i, 0, "the README has no first real job")
	for _, line := range strings.Split(strings.TrimSpace(strings.ReplaceAll(blocks[i], "\\\n", " ")), "\n") {
		steps = append(steps, strings.Split(line, " && ")...)
	}
	return steps
}

// TestReadmeFirstJob runs the README's first job from an empty shop to the bike handed back.
func TestReadmeFirstJob(t *testing.T) {
	t.Setenv("STEAD_NOW", "2026-12-02T09:30:00Z")
	say := inShop(t, "stead job close")
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
				if name, flag := strings.CutPrefix(a, "--"); flag {
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
