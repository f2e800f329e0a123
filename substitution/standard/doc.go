// Package standard holds the published sizes of bicycle parts and reads the names they are written by.
//
// A part's name is often its size in disguise: "6902" is a bearing 15 mm inside, 28 mm outside and 7 mm wide,
// "28-622" a tyre 28 mm wide on a bead seat of 622 mm, "1.37x24" a thread 1.37 inch across with 24 turns to the
// inch. Other names hide the size (a "26 inch" wheel has at least six bead seats) or mean two things (a W before a
// bearing number). The readers here say what a name means where that is settled, give every reading where it is not,
// and never guess: a name with several readings is an [AmbiguousError] that says what to ask.
//
// Each table row says where it comes from and how sure that is ([Reference]). Sizes written from memory are kept,
// because a mechanic may have to recognise them, but they are marked [Memory], which is also the zero value: a row
// that forgets to say is not trusted. A verdict must not rest on a row that is not [Confidence.Firm].
//
// All lengths are millimetres. The package knows nothing of stock, prices or rules, and imports nothing of ours.
package standard
