package describe_test

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// languages are those that wholesalers' lists are written in, by the name of their truth files.
var languages = []struct{ name, file string }{
	{"English, UK", "uk"}, {"English, US", "us"}, {"German", "de"}, {"French", "fr"}, {"Dutch", "nl"}, {"Italian", "it"},
}

// The languages are held to a bar of their own for the family, and none may take a tool or a kit for a part.
const leastFamily = 0.97

// mostWrongOfAHalf is what a precision of [leastPrecision] over a language's two halves, of fewer than 200 values each,
// leaves to one.
const mostWrongOfAHalf = 1

// TestTruthByLanguage scores each language by itself. The lines are invented in the manner of wholesalers' lists, one
// half to tune the words on and one held back; of the held half nothing is printed but its score. The fresh lines were
// written later, with their truth, in other manners: numbers in front, fields between semicolons, abbreviations with
// stops, units written onto figures. Read for the first time, before anything was mended, they came to this (precision,
// recall, family right, other things taken for a part):
//
//	English, UK  .9935  .9000  .9609  1        French   .9969  .8453  .9000  0
//	English, US  .9938  .9388  .9692  2        Dutch   1.0000  .8589  .8661  0
//	German       .9963  .8078  .8504  0        Italian  .9898  .7787  .8538  0
//
// The blind lines were written by somebody who had not seen the reader. Read for the first time they came to this:
//
//	English, UK  .9643  .8963  .8625  3        French   .9692  .8871  .9000  3
//	English, US  .9766  .9690  .9875  1        Dutch    .9785  .9120  .8750  2
//	German       .9780  .8638  .8625  4        Italian  .9631  .9216  .8625  4
//
// The causes of both were mended since, so that they show no more what a list that nobody has seen comes to. The other
// lines are of whoever mended, in yet other manners: numbers in front, measures between strokes, the rarer families.
//
// The second lines were written by somebody else who had not seen the reader, of every family. Read for the first time,
// as they were written, they came to this:
//
//	English, UK  .9847  .9483  .9556  1        French   .9800  .9646  .9889  0
//	English, US  .9828  .9084  .9556  0        Dutch    .9916  .9478  .9556  0
//	German       .9841  .9358  .9333  0        Italian  .9839  .9569  .9444  1
//
// Where their writer had another convention than the lines before, theirs was taken over (a headset's code says the
// steerer and the seat of the crown race, "12x148" the hub's width, a French collier how a front derailleur is held),
// and then it was
//
//	English, UK  .9962  .9489  .9556  1        French   .9960  .9651  .9889  0
//	English, US  .9914  .9091  .9556  0        Dutch    .9958  .9480  .9556  0
//	German       .9960  .9366  .9333  0        Italian  .9919  .9572  .9444  1
//
// The third lines are of whoever had mended that, of the families that had come off worst, without a look at the words:
//
//	English, UK  .9815  .9138  .8077  0        French  1.0000  .9828 1.0000  0
//	English, US  .9683  .9683 1.0000  0        Dutch   1.0000  .9483 1.0000  0
//	German       .9808  .8947  .9231  0        Italian 1.0000  .9828 1.0000  0
//
// The fourth lines are of two more writers who had not seen the reader, one for German, French and British English, one
// for Dutch, Italian and American. As they were written they came to
//
//	English, UK  .9749  .9327  .9500  1        French   .9590  .8863  .9167  0
//	English, US  .9648  .9275  .9500  1        Dutch    .9935  .7927  .8500  0
//	German       .9685  .9641 1.0000  0        Italian  .9737  .9024  .9500  0
//
// and once their truth had this vocabulary's words ("mineral" is mineral-oil, "5wt" 5W, a seat's "frame" the seat-tube)
// and said what the lines before say (the hub's width of "12x148", the kind of a disc caliper, that a collar of 31.8 is
// a clamp) to these, the two English ones alike by chance:
//
//	English, UK  .9899  .9426  .9500  1        French   .9897  .9061  .9167  0
//	English, US  .9899  .9426  .9500  1        Dutch    .9935  .7927  .8500  0
//	German      1.0000  .9737 1.0000  0        Italian  .9842  .9078  .9500  0
//
// The fifth lines are of yet another, half whole phrases and half dense ones, read once the fourth were mended. As they
// were written, and with this vocabulary's words and the lines' before, they came to
//
//	English, UK  .9887  .9459  .9500  0        French   .9583  .8656  .8833  1
//	English, US  .9708  .9022  .9333  0        Dutch    .9938  .9524  .9500  0
//	German       .9836  .9326  .9500  0        Italian  .9877  .9040  .9167  0
//
//	English, UK 1.0000  .9620  .9500  0        French   .9762  .8770  .8833  1
//	English, US  .9883  .9135  .9333  0        Dutch   1.0000  .9583  .9500  0
//	German      1.0000  .9482  .9500  0        Italian 1.0000  .9153  .9167  0
//
// The sixth lines, of another hand again, were read once the fifth were mended. As they were written, and where a
// collar is said to be a clamp and a platform pedal to have no cleat, they came to
//
//	English, UK 1.0000  .9757  .9833  0        French  1.0000  .9952 1.0000  0
//	English, US  .9953  .9906 1.0000  0        Dutch   1.0000  .9951  .9833  1
//	German       .9862  .9862  .9667  1        Italian  .9809  .9856  .9833  1
//
//	English, UK 1.0000  .9757  .9833  0        French  1.0000  .9952 1.0000  0
//	English, US 1.0000  .9906 1.0000  0        Dutch   1.0000  .9951  .9833  1
//	German       .9908  .9862  .9667  1        Italian  .9856  .9856  .9833  1
//
// The seventh lines are of two more hands, a third of them of the rarer families, and were read once when the sixth
// were mended. As they were written, and where steel and titanium rails are round and a toggle chain ends in a chain,
// they came to
//
//	English, UK  .9891  .9891 1.0000  0        French   .9946  .9892 1.0000  0
//	English, US  .9944  .9674  .9833  0        Dutch    .9944  .9833  .9833  0
//	German       .9893  .9893 1.0000  0        Italian  .9943  .9774 1.0000  0
//
//	English, UK 1.0000  .9946 1.0000  0        French  1.0000  .9946 1.0000  0
//	English, US 1.0000  .9728  .9833  0        Dutch   1.0000  .9834  .9833  0
//	German      1.0000  .9947 1.0000  0        Italian  .9943  .9774 1.0000  0
//
// which is one value wrong of 1083 and none of 52 tools, sets and fittings taken for a part. Only that value has been
// mended since.
func TestTruthByLanguage(t *testing.T) {
	t.Parallel()
	for _, set := range []string{"tuning", "held", "fresh", "blind", "other", "second", "third", "fourth", "fifth", "sixth", "seventh"} {
		t.Run(set, func(t *testing.T) {
			t.Logf("%-12s %5s %6s %10s %8s %8s %8s", "language", "lines", "dims", "precision", "recall", "family", "no part")
			for _, l := range languages {
				file := filepath.Join("../../../testdata/pricelist", "truth-"+l.file+"-"+set+".jsonl")
				s := scoreFile(t, file, set != "held" && *wrong, nil)
				family := float64(s.rightFamily) / float64(s.lines)
				t.Logf("%-12s %5d %6d %10.4f %8.4f %8.4f %8d", l.name, s.lines, s.inText, s.precision(), s.recall(), family, s.takenFor)
				require.GreaterOrEqual(t, s.lines, 25, l.name)
				assert.LessOrEqual(t, s.wrong, mostWrongOfAHalf, "%s: precision %.4f", l.name, s.precision())
				assert.GreaterOrEqual(t, s.recall(), leastRecall, l.name)
				assert.GreaterOrEqual(t, family, leastFamily, l.name)
				assert.Zero(t, s.takenFor, "%s: tools, kits or other things taken for a part", l.name)
			}
		})
	}
}

// TestTruthOfTerseLists scores lines of the same writer that run words into one another and cut them short without a
// stop, German and English in one list: "RITZEL18Z3NOCK 3/32". Read for the first time they came to .9931, .5564 and
// .6667, and none was taken for a part.
func TestTruthOfTerseLists(t *testing.T) {
	t.Parallel()
	s := scoreFile(t, "../../../testdata/pricelist/truth-mixed-second.jsonl", *wrong, nil)
	t.Logf("%d lines: precision %.4f, recall %.4f, family %.4f", s.lines, s.precision(), s.recall(), float64(s.rightFamily)/float64(s.lines))
	require.Equal(t, 90, s.lines)
	assert.LessOrEqual(t, s.wrong, mostWrongOfAHalf)
	assert.GreaterOrEqual(t, s.recall(), leastRecall)
	assert.GreaterOrEqual(t, float64(s.rightFamily)/float64(s.lines), leastFamily)
	assert.Zero(t, s.takenFor)
}
