package pages

// pages are all pages with who may see them. A new one is a line here, a file, a template, and a row of
// testdata/access.txt.
func (s *Server) pages() []page {
	return []page{
		{path: "/sign-in", who: anybody, layout: "letter", template: "sign-in", show: showSignIn, acts: map[string]act{"sign-in": signIn}},
		{path: "/hands", who: mechanic, template: "hands", show: showHands, acts: map[string]act{"change": changeHands, "pin": setPIN, "password": setPassword, "leave": signOut}},
		{path: "/people", who: owner, on: "shop", template: "people", show: showPeople, acts: map[string]act{"add": addPerson, "secrets": newSecrets, "dismiss": dismissPerson}},
		{path: "/{$}", who: mechanic, live: "*", template: "today", show: showToday},
		{path: "/book", who: mechanic, template: "book", show: showBook, acts: map[string]act{"book": bookIn}},
		{path: "/jobs", who: mechanic, live: "job", template: "jobs", show: showJobs},
		{path: "/jobs/{job}", who: mechanic, on: "job", template: "job", show: showJob, acts: map[string]act{"quote": makeQuote, "use": useHeld, "close": closeJob, "cancel": cancelJob}},
		{path: "/jobs/{job}/inspect", who: mechanic, on: "job", template: "inspect", show: showInspect, acts: map[string]act{"look": inspectPlace, "take-back": takeBackReading, "record": recordPlace, "say": readNote}},
		{path: "/jobs/{job}/photos", who: mechanic, on: "job", template: "photos", show: showPhotos, acts: photoActs},
		{path: "/bikes/{bike}/photos", who: mechanic, live: "job", template: "photos", show: showPhotos, acts: photoActs},
		{path: "/parts/{part}/photos", who: mechanic, live: "shelf", template: "photos", show: showPhotos, acts: photoActs},
		{path: "/photos/{photo}", who: mechanic, give: givePhoto},
		{path: "/q/{link}/photos/{photo}", who: holder, layout: "letter", give: giveLetterPhoto},
		{path: "/jobs/{job}/note", who: mechanic, on: "job", template: "note", show: showNote, acts: map[string]act{"say": readNote, "keep": keepNote}},
		{path: "/jobs/{job}/send", who: mechanic, on: "job", template: "send", show: showSend, acts: map[string]act{"link": makeLink, "revoke": revokeLink, "answer": answerQuestion, "mail": mailQuote}},
		{path: "/q/{link}", who: holder, on: "link", layout: "letter", template: "letter", show: showLetter, acts: map[string]act{"yes": sayYes, "no": sayNo, "ask": askUs}},
		{path: "/jobs/{job}/terms", who: mechanic, on: "job", template: "terms", show: showTerms, acts: map[string]act{"work": addWork, "drop-work": dropWork, "discount": addDiscount, "drop-discount": dropDiscount}},
		{path: "/jobs/{job}/at", who: mechanic, on: "job", template: "place", show: showPlace, acts: map[string]act{"leave-out": leaveOut, "take-in": takeIn, "if-opened": sayIfOpened, "own": ownPart, "drop-own": dropOwnPart, "unvouch": takeBackVouched}},
		{path: "/jobs/{job}/vouch", who: mechanic, on: "job", template: "vouch", show: showVouch, acts: map[string]act{"vouch": vouch}},
		{path: "/jobs/{job}/correct", who: mechanic, on: "job", template: "correct", show: showCorrect, acts: map[string]act{"correct": correctJob, "unbook": unbookJob, "reopen": reopenJob, "release": releaseJob}},
		{path: "/jobs/{job}/used", who: mechanic, on: "job", template: "used", show: showUsed, acts: map[string]act{"use": usePart, "bring-back": bringBack}},
		{path: "/jobs/{job}/asks", who: mechanic, on: "job", template: "asks", show: showAsks, acts: map[string]act{"answer": answerAsk}},
		{path: "/lost", who: mechanic, live: "job", template: "lost", show: showLost, acts: map[string]act{"say": sayLost}},
		{path: "/bikes/{bike}", who: mechanic, on: "bike", live: "job", template: "bike", show: showBike, acts: map[string]act{"correct": correctBike, "forget": forgetWish}},
		{path: "/jobs/{job}/options", who: mechanic, on: "job", template: "options", show: showOptions, acts: map[string]act{"quote": makeQuote, "limit": limitJob}},
		{path: "/jobs/{job}/why", who: mechanic, on: "job", template: "why", show: showWhy, acts: map[string]act{"only": onlyPart, "not": notPart}},
		{path: "/jobs/{job}/quote", who: mechanic, on: "job", template: "quote", show: showQuote, acts: map[string]act{"answer": answerQuote, "decline": declineQuote}},

		{path: "/scan", who: mechanic, template: "scan", show: showScan, acts: map[string]act{"give": giveCode}},

		// The counter: the shelf, and what is ordered for it.
		{path: "/shelf", who: mechanic, live: "shelf", template: "shelf", show: showShelf},
		{path: "/parts/{part}", who: mechanic, live: "shelf,order", template: "part", show: showPart, acts: map[string]act{"sell": sellPart, "count": countPart, "put-in": putInPart, "move": movePart, "scrap": scrapPart, "take-code": takeCode}},
		{path: "/parts/new", who: mechanic, template: "part-new", show: showNewPart, acts: map[string]act{"add": addPart}},
		{path: "/parts/{part}/set", who: mechanic, on: "part", template: "part-set", show: showSetPart, acts: map[string]act{"set": setPart, "code": moveCode, "by-hand": orderByHand, "offer": putOffer}},
		{path: "/parts/{part}/keep", who: mechanic, on: "part", live: "shelf", template: "keep", show: showKeep, acts: map[string]act{"set": keepByHand, "advised": keepAdvised, "never": keepNone, "limit": limitPart}},
		{path: "/parts/{part}/prices", who: mechanic, live: "lists", template: "prices", show: showPrices},
		{path: "/find", who: mechanic, template: "find", show: showFind},
		{path: "/stocktake", who: mechanic, template: "stocktake", show: showStocktake, acts: map[string]act{"take": takeStock}},
		{path: "/excess", who: mechanic, template: "excess", show: showExcess, acts: map[string]act{"use-up": useUp, "as-advised": noLonger}},
		{path: "/levels", who: mechanic, live: "shelf", template: "levels", show: showLevels, acts: map[string]act{"as-advised": setAdvised}},
		{path: "/tubs", who: mechanic, live: "shelf", template: "tubs", show: showTubs, acts: map[string]act{"open": openTub, "left": leftInTub}},
		{path: "/orders", who: mechanic, live: "order,job,shelf", template: "orders", show: showOrders},
		{path: "/orders/plan", who: mechanic, live: "order,job,shelf,lists", template: "plan", show: showPlan, acts: map[string]act{"place": placeOrders}},
		{path: "/orders/{order}", who: mechanic, on: "order", template: "order", show: showOrder, acts: map[string]act{"cancel": cancelOrder, "answer": answerOrder, "invoice": invoiceOrder, "mail": mailOrder, "told": tellOrder, "send-back": sendBack}},
		{path: "/orders/{order}/receive", who: mechanic, on: "order", template: "goodsin", show: showGoodsIn, acts: map[string]act{"receive": receiveOrder}},
		{path: "/reorder", who: mechanic, live: "shelf,order", template: "reorder", show: showReorder, acts: map[string]act{"take-all": takeAll, "take": takeAdvised, "say": sayOfPart, "as-advised": asAdvised}},

		{path: "/customers", who: mechanic, template: "customers", show: showCustomers},
		{path: "/customers/{customer}", who: mechanic, on: "customer", live: "job", template: "customer", show: showCustomer, acts: map[string]act{"correct": correctCustomer}},
		{path: "/jobs/{job}/amend", who: mechanic, on: "job", template: "amend", show: showAmend, acts: map[string]act{"amend": amendJob, "decline": declineQuote}},
		{path: "/jobs/{job}/bill", who: mechanic, on: "job", template: "bill", show: showBill, acts: map[string]act{"bill": makeBill, "pay": takePayment, "credit": creditBill, "mail": mailBill}},
		{path: "/jobs/{job}/print/{paper}", who: mechanic, give: giveJobPaper},
		{path: "/orders/{order}/print/{paper}", who: mechanic, give: giveOrderPaper},
		{path: "/papers/{series}/{number}", who: mechanic, give: giveBill},
		{path: "/bins/{bin}/sheet", who: mechanic, give: giveSheet},
		{path: "/labels/{kind}/{name}", who: mechanic, give: giveLabel},
		{path: "/q/{link}/quote", who: holder, layout: "letter", give: giveLetterQuote},
		{path: "/jobs/{job}/card", who: mechanic, template: "card", show: showCard},
		{path: "/suppliers", who: mechanic, on: "shop", template: "suppliers", show: showSuppliers, acts: map[string]act{"add": addSupplier}},
		{path: "/suppliers/{supplier}", who: mechanic, on: "shop", template: "supplier", show: showSupplier, acts: map[string]act{"set": changeSupplier, "closed": closeDays, "reopen": reopenDays}},
		{path: "/lists", who: mechanic, template: "lists", show: showLists},
		{path: "/lists/{supplier}", who: mechanic, on: "list", template: "list", show: showList, acts: map[string]act{"send": sendList, "columns": sayColumns, "load": loadList, "answer": answerWord, "line": sayLine, "take-back": takeBackList}},
		{path: "/shop", who: mechanic, on: "shop", template: "settings", show: showSettings, acts: map[string]act{"set": changeShop, "tax": setTax, "labour": setLabour, "bin": addBin, "rate": setRate, "weigh": setWeight, "shelf": setShelf, "life": setFamilyLife, "closed": closeShop, "reopen": reopenShop}},
		{path: "/words", who: mechanic, template: "words", show: showWords, acts: map[string]act{"tell": tellWord}},
		{path: "/calendar", who: mechanic, template: "calendar", show: showCalendar, acts: map[string]act{"make": makeFeed, "revoke": revokeFeed}},
		{path: "/post", who: mechanic, on: "shop", live: "post", template: "post", show: showPost, acts: postActs},
		{path: "/lists/joined", who: mechanic, template: "joined", show: showJoined, acts: map[string]act{"split": splitPart, "split-line": splitLine}},
		{path: "/lists/{supplier}/alike", who: mechanic, template: "alike", show: showAlike, acts: map[string]act{"same": makeSame, "differ": sayDiffer}},
		{path: "/bills", who: mechanic, live: "job", template: "bills", show: showBills},
		{path: "/bills/{bill}", who: mechanic, on: "bill", template: "paper", show: showPaper, acts: map[string]act{"pay": payBill, "credit": creditPaper, "mail": mailPaper}},
		{path: "/credits/{credit}", who: mechanic, template: "paper", show: showPaper, acts: map[string]act{"mail": mailPaper}},
		{path: "/returns", who: mechanic, live: "order", template: "returns", show: showReturns, acts: map[string]act{"credit": creditReturn}},
		{path: "/rules", who: mechanic, template: "rules", show: showRules},
		{path: "/rules/{rule}", who: mechanic, template: "rule", show: showRule},
		{path: "/torques", who: mechanic, template: "torques", show: showTorques},
		{path: "/fit", who: mechanic, template: "fit", show: showFit},
		{path: "/measure", who: mechanic, template: "measure", show: showMeasure},
	}
}

// navLink is a link of the heading.
type navLink struct{ Path, Words, Here string }

// Nav are the links of the heading.
func (s *screen) Nav() []navLink {
	if s.v.person.ID == 0 {
		return nil
	}
	links := []navLink{{Path: "/", Words: "Today"}, {Path: "/jobs", Words: "Jobs"},
		{Path: "/shelf", Words: "Shelf"}, {Path: "/scan", Words: "Scan"}, {Path: "/orders", Words: "Orders"},
		{Path: "/customers", Words: "Customers"},
		{Path: "/fit", Words: "Fit"}, {Path: "/shop", Words: "Shop"}}
	for i := range links {
		links[i].Here = s.Here(links[i].Path)
	}
	return append(links, navLink{"/hands", s.v.person.Name, s.Here("/hands")})
}
