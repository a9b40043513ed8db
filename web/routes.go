package web

import (
	"slices"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A route is one line of the access table.
type route struct {
	method, path string
	may          []act.Role // who may use it; nil: anybody
	handler      fiber.Handler
	body         int  // largest body in bytes; 0: takes none
	csrf         bool // a form sent here needs its token
}

const (
	formBytes  = 64_000
	tallyBytes = stack.MaxTallyBytes
	eraseBytes = 250_000 // receipts of many years by number
)

// routes is the access table: every route there is, and who may use it.
func (s *Server) routes() []route {
	owner := []act.Role{act.Owner}
	handing := []act.Role{act.Owner, act.Driver}
	inside := []act.Role{act.Owner, act.Driver, act.Auditor}
	auditing := []act.Role{act.Owner, act.Auditor}
	const get, post = fiber.MethodGet, fiber.MethodPost
	pages := append([]route{
		{get, "/", inside, s.boardShow, 0, false},
		{get, "/begin", owner, s.beginNew, 0, false},
		{post, "/begin", owner, s.beginCreate, formBytes, true},
		{get, "/orders", inside, s.orderList, 0, false},
		{get, "/orders/new", owner, s.orderNew, 0, false},
		{post, "/orders", owner, s.orderCreate, formBytes, true},
		{post, "/orders/price", owner, s.orderPrice, formBytes, true},
		{post, "/orders/pick", owner, s.orderPick, formBytes, true},
		{post, "/language", nil, s.languagePick, formBytes, true},
		{get, "/promise", inside, s.promiseShow, 0, false},
		{get, "/prices", inside, s.priceList, 0, false},
		{get, "/prices.pdf", inside, s.pricePrint, 0, false},
		{get, "/prices/new", owner, s.priceNew, 0, false},
		{post, "/prices", owner, s.priceCreate, formBytes, true},
		{post, "/prices/:id/end", owner, s.priceEnd, formBytes, true},
		{get, "/charges", owner, s.chargesEdit, 0, false},
		{post, "/charges", owner, s.chargesChange, formBytes, true},
		{get, "/orders/:id", inside, s.orderShow, 0, false},
		{get, "/loose", inside, s.looseList, 0, false},
		{post, "/loose", inside, s.looseKeep, tallyBytes, true},
		{post, "/loose/:id/attach", inside, s.looseAttach, formBytes, true},
		{post, "/loose/:id/drop", inside, s.looseDrop, formBytes, true},
		{get, "/orders/:id/photos", inside, s.orderPhotos, 0, false},
		{post, "/orders/:id/photos", inside, s.orderPhotoAdd, photoBytes, true},
		{get, "/orders/:id/photos/:photo", inside, s.orderPhotoFile, 0, false},
		{get, "/orders/:id/photos/:photo/shown", inside, s.orderPhotoShow, 0, false},
		{post, "/orders/:id/photos/:photo/drop", owner, s.orderPhotoDrop, formBytes, true},
		{get, "/orders/:id/history", inside, s.historyShow(orders.OrderJournal, "/orders"), 0, false},
		{get, "/customers/:id/history", inside, s.historyShow(orders.CustomerJournal, "/customers"), 0, false},
		{get, "/audits/:id/history", auditing, s.historyShow(orders.AuditJournal, "/audits"), 0, false},
		{get, "/orders/:id/edit", owner, s.orderEdit, 0, false},
		{post, "/orders/:id/edit", owner, s.orderChange, formBytes, true},
		{post, "/orders/:id/day", handing, s.orderDay, formBytes, true},
		{post, "/orders/:id/aside", owner, s.orderAside, formBytes, true},
		{post, "/orders/:id/cancel", owner, s.orderCancel, formBytes, true},
		{get, "/orders/:id/deliver", handing, s.loadNew, 0, false},
		{post, "/orders/:id/deliver", handing, s.loadCreate, formBytes, true},
		{get, "/orders/:id/delivered", handing, s.minuteShow, 0, false},
		{post, "/orders/:id/delivered/now", handing, s.minuteNumber, formBytes, true},
		{post, "/orders/:id/delivered/back", handing, s.minuteBack, formBytes, true},
		{get, "/calendar", handing, s.calendarShow, 0, false},
		{post, "/calendar", handing, s.calendarMake, formBytes, true},
		{post, "/calendar/:id/withdraw", handing, s.calendarWithdraw, formBytes, true},
		{get, "/deliveries/:code", nil, s.calendarSend, 0, false},
		{get, "/road", handing, s.roadShow, 0, false},
		{get, "/road/vehicles", owner, s.vehicleList, 0, false},
		{post, "/road/vehicles", owner, s.vehicleCreate, formBytes, true},
		{post, "/road/vehicles/:id/retire", owner, s.vehicleRetire, formBytes, true},
		{post, "/road/yard", owner, s.yardSet, formBytes, true},
		{post, "/road/:day/arrange", owner, s.roadArrange, formBytes, true},
		{get, "/road/:day/edit", owner, s.roadEdit, 0, false},
		{post, "/road/:day/edit", owner, s.roadChange, formBytes, true},
		{get, "/road/:day/pdf", handing, s.roadPrint, 0, false},
		{get, "/road/:day/trips/:trip", handing, s.runShow, 0, false},
		{post, "/road/:day/trips/:trip", handing, s.runLoaded, formBytes, true},
		{get, "/season", owner, s.seasonShow, 0, false},
		{get, "/season/books.zip", owner, s.booksSend, 0, false},
		{get, "/customers", inside, s.customerList, 0, false},
		{get, "/customers/new", owner, s.customerNew, 0, false},
		{post, "/customers", owner, s.customerCreate, formBytes, true},
		{get, "/customers/import", owner, s.customerImportNew, 0, false},
		{post, "/customers/import", owner, s.customerImport, tallyBytes, true},
		{get, "/customers/:id", inside, s.customerShow, 0, false},
		{get, "/customers/:id/edit", handing, s.customerEdit, 0, false},
		{post, "/customers/:id/edit", handing, s.customerChange, formBytes, true},
		{post, "/customers/:id/merge", owner, s.customerMerge, formBytes, true},
		{post, "/customers/:id/drop", owner, s.customerDrop, formBytes, true},
		{get, "/waiting", inside, s.waitingShow, 0, false},
		{post, "/waiting", owner, s.waitingCreate, formBytes, true},
		{post, "/waiting/:id/take", owner, s.waitingTake, formBytes, true},
		{post, "/waiting/:id/drop", owner, s.waitingDrop, formBytes, true},
		{get, "/orders/:id/settlement", inside, s.settlementShow, 0, false},
		{post, "/orders/:id/settlement", handing, s.settlementCreate, formBytes, true},
		{post, "/orders/:id/settlement/bring", handing, s.settlementBring, tallyBytes, true},
		{get, "/orders/:id/settlement/measure", handing, s.broughtNew, 0, false},
		{post, "/orders/:id/settlement/measure", handing, s.broughtCreate, tallyBytes, true},
		{get, "/orders/:id/settlement/measured/:number", inside, s.broughtShow, 0, false},
		{post, "/orders/:id/settlement/give", handing, s.settlementGive, formBytes, true},
		{get, "/orders/:id/payments", inside, s.paymentList, 0, false},
		{get, "/orders/:id/payments/pdf", inside, s.paymentPrint, 0, false},
		{post, "/orders/:id/payments", handing, s.paymentCreate, formBytes, true},
		{post, "/orders/:id/payments/:payment/reverse", owner, s.paymentReverse, formBytes, true},
		{post, "/orders/:id/payments/:payment/copy", handing, s.paymentCopy, formBytes, true},
		{get, "/receipts/:number", inside, s.receiptShow, 0, false},
		{get, "/receipts/:number/pdf", inside, s.receiptPrint, 0, false},
		{get, "/receipts/:number/correct", handing, s.correctionNew, 0, false},
		{post, "/receipts/:number/correct", handing, s.correctionCreate, formBytes, true},
		{get, "/receipts/:number/void", owner, s.voidNew, 0, false},
		{post, "/receipts/:number/void", owner, s.voidCreate, formBytes, true},
		{get, "/orders/:id/measure", inside, s.tallyNew, 0, false},
		{post, "/orders/:id/measure", inside, s.tallyCreate, tallyBytes, true},
		{get, "/orders/:id/moisture", inside, s.moistureNew, 0, false},
		{post, "/orders/:id/moisture", inside, s.moistureCreate, formBytes, true},
		{get, "/wood", nil, s.woodShow, 0, false},
		{get, "/shares", nil, s.sharesShow, 0, false},
		{get, "/measure", nil, s.measureNew, 0, false},
		{post, "/measure", nil, s.measureTry, tallyBytes, true},
		{get, "/photo", nil, s.photoShow, 0, false},
		{get, "/sheets/:number", inside, s.sheetShow, 0, false},
		{get, "/sheets/:number/pdf", inside, s.sheetPrint, 0, false},
		{get, "/sheets/:number/working", inside, s.sheetWorking, 0, false},
		{get, "/how-to-measure", nil, s.guideShow, 0, false},
		{get, "/tally-form.pdf", nil, s.guidePrint, 0, false},
		{get, "/storage", nil, s.storageNew, 0, false},
		{post, "/storage", nil, s.storageTry, formBytes, true},
		{get, "/storage.pdf", nil, s.storagePrint, 0, false},
		{post, "/storage.pdf", nil, s.storagePrint, formBytes, true},
		{get, "/trips", nil, s.tripsNew, 0, false},
		{post, "/trips", nil, s.tripsTry, formBytes, true},
		{get, "/winter", nil, s.winterNew, 0, false},
		{post, "/winter", nil, s.winterTry, formBytes, true},
		{get, "/lots", nil, s.lotNew, 0, false},
		{post, "/lots", nil, s.lotTry, lot.MaxBytes, true},
		{get, "/batches", inside, s.batchList, 0, false},
		{get, "/batches/new", owner, s.batchNew, 0, false},
		{post, "/batches", owner, s.batchCreate, formBytes, true},
		{get, "/batches/:id", inside, s.batchShow, 0, false},
		{get, "/batches/:id/edit", owner, s.batchEdit, 0, false},
		{post, "/batches/:id/edit", owner, s.batchChange, formBytes, true},
		{post, "/batches/:id/count", handing, s.batchCount, formBytes, true},
		{post, "/batches/:id/end", handing, s.batchEnd, formBytes, true},
		{get, "/batches/:id/moisture", inside, s.batchMoistureNew, 0, false},
		{post, "/batches/:id/moisture", inside, s.batchMoistureCreate, formBytes, true},
		{get, "/audits", auditing, s.auditList, 0, false},
		{get, "/audits/new", auditing, s.auditNew, 0, false},
		{get, "/audits/stowing", auditing, s.stowingShow, 0, false},
		{post, "/audits", auditing, s.auditCreate, formBytes, true},
		{get, "/audits/measuring/:code", nil, s.measurerShow, 0, false},
		{post, "/audits/measuring/:code", nil, s.measurerSave, tallyBytes, true},
		{get, "/audits/:id", auditing, s.auditShow, 0, false},
		{get, "/audits/:id/pdf", auditing, s.auditPrint, 0, false},
		{post, "/audits/:id/notice", auditing, s.auditNotice, formBytes, true},
		{post, "/audits/:id/hold", auditing, s.auditHold, formBytes, true},
		{post, "/audits/:id/plan", auditing, s.auditPlan, formBytes, true},
		{post, "/audits/:id/measurers", auditing, s.auditMeasurerAdd, formBytes, true},
		{post, "/audits/:id/measurers/:measurer/renew", auditing, s.auditMeasurerRenew, formBytes, true},
		{post, "/audits/:id/attendance", auditing, s.auditAttendance, formBytes, true},
		{post, "/audits/:id/checklist", auditing, s.auditChecklist, formBytes, true},
		{post, "/audits/:id/photos", auditing, s.auditPhotoAdd, photoBytes, true},
		{get, "/audits/:id/photos/:photo", auditing, s.auditPhotoFile, 0, false},
		{get, "/audits/:id/photos/:photo/shown", auditing, s.auditPhotoShow, 0, false},
		{post, "/audits/:id/notes", auditing, s.auditNote, formBytes, true},
		{post, "/audits/:id/close", auditing, s.auditClose, formBytes, true},
		{get, "/bodies", inside, s.bodyList, 0, false},
		{post, "/bodies", owner, s.bodyCreate, formBytes, true},
		{post, "/bodies/:id/retire", owner, s.bodyRetire, formBytes, true},
		{get, "/shop", owner, s.shopEdit, 0, false},
		{post, "/shop", owner, s.shopChange, formBytes, true},
		{get, "/shop/backups", owner, s.backupList, 0, false},
		{post, "/shop/backups", owner, s.backupCreate, formBytes, true},
		{get, "/shop/seal", inside, s.sealShow, 0, false},
		{post, "/shop/seal/witness", handing, s.witnessCatchUp, formBytes, true},
		{get, "/shop/erase", owner, s.eraseShow, 0, false},
		{post, "/shop/erase", owner, s.eraseNames, eraseBytes, true},
		{get, "/labels", handing, s.labelShow, 0, false},
		{get, "/rules", nil, s.ruleList, 0, false},
		{get, "/rules/check", nil, s.ruleCheckNew, 0, false},
		{post, "/rules/check", nil, s.ruleCheckTry, rules.MaxBytes, true},
		{get, "/rules/:code", nil, s.ruleShow, 0, false},
		{get, "/static/:name", nil, s.assetShow, 0, false},
		{get, "/sw.js", nil, s.workerShow, 0, false},
		{get, "/manifest.webmanifest", nil, s.manifestShow, 0, false},
		{get, "/offline", nil, s.offlineShow, 0, false},
		{get, "/offline/copy", nil, s.offlineCopyShow, 0, false},
		{get, "/outbox", nil, s.outboxShow, 0, false},
		{get, "/healthz", nil, s.healthShow, 0, false},
	}, slices.Concat(s.buyerRoutes(), s.peopleRoutes())...)
	return append(pages, s.programRoutes(pages)...)
}

// buyerRoutes are the lines of the access table for buyers: what anybody may read, the
// records of whoever runs the program, and what a link's code opens, which is checked
// by the service.
func (s *Server) buyerRoutes() []route {
	owner := []act.Role{act.Owner}
	handing := []act.Role{act.Owner, act.Driver}
	inside := []act.Role{act.Owner, act.Driver, act.Auditor}
	const get, post = fiber.MethodGet, fiber.MethodPost
	return []route{
		{get, "/start", nil, s.startShow, 0, false},
		{get, "/bought", nil, s.boughtHow, 0, false},
		{get, "/bought/sold", nil, s.boughtSold, 0, false},
		{get, "/bought/measure", nil, s.boughtMeasure, 0, false},
		{post, "/bought/measure", nil, s.boughtTry, tallyBytes, true},
		{post, "/bought/message", nil, s.boughtMessage, tallyBytes, true},
		{get, "/buying", nil, s.buyingShow, 0, false},
		{get, "/buying.pdf", nil, s.buyingPrint, 0, false},
		{get, "/offers", nil, s.offerList, 0, false},
		{get, "/buying/cases", owner, s.caseList, 0, false},
		{post, "/buying/cases", owner, s.caseCreate, formBytes, true},
		{get, "/buying/case/new", owner, s.caseNew, 0, false},
		{get, "/buying/case/:id", owner, s.caseShow, 0, false},
		{get, "/buying/case/:id/pdf", owner, s.casePrint, 0, false},
		{get, "/buying/case/:id/edit", owner, s.caseEdit, 0, false},
		{post, "/buying/case/:id/edit", owner, s.caseChange, formBytes, true},
		{get, "/buying/case/:id/measure", owner, s.caseTallyNew, 0, false},
		{post, "/buying/case/:id/measure", owner, s.caseTallyCreate, tallyBytes, true},
		{get, "/buying/case/:id/tallies/:look", owner, s.caseTallyShow, 0, false},
		{post, "/buying/case/:id/entries", owner, s.entryCreate, formBytes, true},
		{get, "/receipts/:number/case", inside, s.caseShow, 0, false},
		{get, "/receipts/:number/case/pdf", inside, s.casePrint, 0, false},
		{get, "/receipts/:number/case/tallies/:look", inside, s.caseTallyShow, 0, false},
		{post, "/receipts/:number/case/entries", owner, s.entryCreate, formBytes, true},
		{post, "/receipts/:number/case/link", handing, s.linkCreate, formBytes, true},
		{post, "/receipts/:number/case/withdraw", handing, s.linkWithdraw, formBytes, true},
		{get, "/buyer/:code", nil, s.caseShow, 0, false},
		{get, "/buyer/:code/pdf", nil, s.casePrint, 0, false},
		{get, "/buyer/:code/receipt", nil, s.buyerReceiptShow, 0, false},
		{get, "/buyer/:code/receipt/pdf", nil, s.buyerReceiptPrint, 0, false},
		{get, "/buyer/:code/edit", nil, s.caseEdit, 0, false},
		{post, "/buyer/:code/edit", nil, s.caseChange, formBytes, true},
		{get, "/buyer/:code/measure", nil, s.caseTallyNew, 0, false},
		{post, "/buyer/:code/measure", nil, s.caseTallyCreate, tallyBytes, true},
		{get, "/buyer/:code/tallies/:look", nil, s.caseTallyShow, 0, false},
		{post, "/buyer/:code/entries", nil, s.entryCreate, formBytes, true},
	}
}

// allowed tells whether the actor may use the route.
func (r route) allowed(who act.Actor) bool {
	return r.may == nil || slices.Contains(r.may, who.Role)
}
