// Package api says what programs can ask of a shop: each operation with what it takes and
// gives, and all of them as an OpenAPI document. An operation does what the page of the
// same path does, by the same act; the pages' own package answers it.
package api

import (
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/audits"
	"wellstowed/orders/customers"
	"wellstowed/orders/people"
	"wellstowed/orders/prices"
	"wellstowed/orders/road"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

// Prefix is what the path of each operation starts with.
const Prefix = "/api/v1"

// DocumentPath is where the OpenAPI document is.
const DocumentPath = Prefix + "/openapi.json"

// An Operation is one thing that a program can ask for.
type Operation struct {
	ID     string // "takeOrder", which never changes
	Method string
	Path   string // after Prefix, as the router has it: "/orders/:id"
	Page   string // path of the page that does the same; the same but for the board's
	Says   string // what it does, in a sentence
	Query  []Parameter
	Takes  any  // zero value of its body; nil: it takes none
	Gives  any  // zero value of its answer
	New    bool // it makes something and answers 201
}

// A Parameter is what may stand after the “?” of an address.
type Parameter struct{ Name, Says string }

// Tally, as what an operation takes, is readings as “wellstowed measure” takes them.
type Tally struct{}

// Paper, as what an operation gives, is a PDF.
type Paper struct{}

// Archive, as what an operation gives, is a ZIP.
type Archive struct{}

// Operations are all there are.
func Operations() []Operation {
	var all []Operation
	for _, part := range [][]Operation{ordering(), delivering(), customersAndPrices(), woodInStock(), running(), auditing(), public()} {
		all = append(all, part...)
	}
	return all
}

func ordering() []Operation {
	day := Parameter{"day", "the day, such as 2026-01-31 or tomorrow; empty: today"}
	return []Operation{
		get("board", "/board", "What there is to do, from today on.", orders.Board{}).of("/"),
		get("listOrders", "/orders", "Orders, the newest first.", OrderList{},
			Parameter{"before", "only orders of lower numbers, for the next page"}, Parameter{"find", "part of a name, a street, a telephone number, or a number"},
			Parameter{"owing", "yes: only orders that aren’t paid"}),
		post("takeOrder", "/orders", "Takes an order. Where the quantity has to be read back first, it is a fault of the field “confirmed” that says what to send there.", orders.OrderRequest{}, orders.Order{}).new(),
		post("readBackOrder", "/orders/price", "What an order would be taken as, with its price. Nothing is saved.", orders.OrderRequest{}, OrderReadBack{}),
		get("showOrder", "/orders/:id", "An order with all that was done on it.", orders.History{}),
		get("editOrder", "/orders/:id/edit", "An order as it would be typed, to be changed and sent back.", orders.OrderRequest{}),
		post("changeOrder", "/orders/:id/edit", "Changes an order that nothing was delivered of.", orders.OrderRequest{}, orders.Order{}),
		post("setOrderDay", "/orders/:id/day", "Sets the day an order is to be delivered on.", orders.DayRequest{}, orders.Order{}),
		post("setOrderAside", "/orders/:id/aside", "Sets an order’s wood aside in a batch.", orders.AsideRequest{}, orders.Order{}),
		post("cancelOrder", "/orders/:id/cancel", "Cancels an order.", Cancel{}, orders.Order{}),
		get("orderHistory", "/orders/:id/history", "Who did what to an order.", History{}),
		get("listWaiting", "/waiting", "The waiting list.", orders.WaitingList{}),
		post("addWish", "/waiting", "Puts somebody on the waiting list.", orders.WishRequest{}, orders.Wish{}).new(),
		post("takeWish", "/waiting/:id/take", "Takes an order of somebody on the waiting list.", orders.OrderRequest{}, orders.Order{}).new(),
		post("dropWish", "/waiting/:id/drop", "Takes somebody off the waiting list.", orders.DropRequest{}, orders.Wish{}),
		get("roadDay", "/road", "The trips of a day.", road.Day{}, day),
	}
}

func delivering() []Operation {
	return []Operation{
		post("deliver", "/orders/:id/deliver", "Delivers a load, or all that is left, and makes its numbered receipt.", orders.LoadRequest{}, Receipt{}).new(),
		get("showReceipt", "/receipts/:number", "A receipt.", Receipt{}),
		get("printReceipt", "/receipts/:number/pdf", "A receipt as a paper.", Paper{}),
		post("correctReceipt", "/receipts/:number/correct", "Makes a receipt that corrects another.", orders.CorrectionRequest{}, Receipt{}).new(),
		get("listPayments", "/orders/:id/payments", "The payments on an order.", Payments{}),
		post("addPayment", "/orders/:id/payments", "Takes a payment.", orders.PaymentRequest{}, orders.Payment{}).new(),
		post("reversePayment", "/orders/:id/payments/:payment/reverse", "Takes back a payment that was noted wrongly.", orders.ReversalRequest{}, orders.Payment{}).new(),
		post("measureOrder", "/orders/:id/measure", "Measures a delivery and makes its measurement sheet.", Tally{}, Sheet{}, Parameter{"enough", "yes: saved although more readings were asked for"}).new(),
		get("showSheet", "/sheets/:number", "A measurement sheet.", Sheet{}),
		get("printSheet", "/sheets/:number/pdf", "A measurement sheet as a paper.", Paper{}),
		get("listMoisture", "/orders/:id/moisture", "A meter’s readings of an order’s wood, the oldest first.", []yard.Moisture{}),
		post("addMoisture", "/orders/:id/moisture", "Keeps a meter’s readings of an order’s wood.", yard.MoistureRequest{}, yard.Moisture{}).new(),
		get("showSettlement", "/orders/:id/settlement", "What was agreed on a shortage, and what could be.", Settlements{}),
		post("settle", "/orders/:id/settlement", "Agrees on what makes up for a shortage.", orders.SettleRequest{}, orders.Settlement{}).new(),
		post("bringWood", "/orders/:id/settlement/bring", "Brings the wood that was agreed on, with a receipt.", orders.BringRequest{}, Receipt{}).new(),
		post("giveBack", "/orders/:id/settlement/give", "Gives back the money that was agreed on, with a receipt.", orders.GiveRequest{}, Receipt{}).new(),
	}
}

func customersAndPrices() []Operation {
	return []Operation{
		get("listCustomers", "/customers", "Customers by name.", CustomerList{}, Parameter{"find", "part of a name, a street or a telephone number"}),
		post("addCustomer", "/customers", "Adds a customer.", customers.Request{}, customers.Record{}).new(),
		get("showCustomer", "/customers/:id", "A customer with the orders.", orders.CustomerHistory{}),
		post("changeCustomer", "/customers/:id/edit", "Changes a customer.", customers.Request{}, customers.Record{}),
		post("mergeCustomer", "/customers/:id/merge", "Makes two customers one.", customers.MergeRequest{}, customers.Record{}),
		get("customerHistory", "/customers/:id/history", "Who did what to a customer.", History{}),
		post("importCustomers", "/customers/import", "Keeps the customers of a CSV list that aren’t kept yet.", customers.ImportRequest{}, customers.Import{}),
		get("listPrices", "/prices", "The price list.", prices.List{}),
		get("printPrices", "/prices.pdf", "The price list as a paper.", Paper{}),
		post("setPrice", "/prices", "Puts a price on the list.", prices.Request{}, prices.Line{}).new(),
		post("endPrice", "/prices/:id/end", "Takes a price off the list.", prices.EndRequest{}, prices.Line{}),
		get("showCharges", "/charges", "Charges for distance and part loads, and tax.", orders.Charges{}),
		post("changeCharges", "/charges", "Changes the charges and tax.", orders.ChargesRequest{}, orders.Charges{}),
	}
}

func woodInStock() []Operation {
	return []Operation{
		get("listBatches", "/batches", "Batches of wood in stock.", []yard.Batch{}),
		post("addBatch", "/batches", "Puts up a batch.", yard.BatchRequest{}, yard.Batch{}).new(),
		get("showBatch", "/batches/:id", "A batch with what was drawn from it.", Batch{}),
		post("changeBatch", "/batches/:id/edit", "Corrects a batch.", yard.BatchRequest{}, yard.Batch{}),
		post("countBatch", "/batches/:id/count", "Counts what is left of a batch.", yard.BatchCount{}, yard.Batch{}),
		post("endBatch", "/batches/:id/end", "Ends a batch.", yard.BatchEnd{}, yard.Batch{}),
		get("listBatchMoisture", "/batches/:id/moisture", "A meter’s readings of a batch, the oldest first.", []yard.Moisture{}),
		post("addBatchMoisture", "/batches/:id/moisture", "Keeps a meter’s readings of a batch.", yard.MoistureRequest{}, yard.Moisture{}).new(),
		get("listBodies", "/bodies", "Truck and trailer beds.", []yard.Body{}),
		post("addBody", "/bodies", "Adds a truck or trailer bed.", yard.BodyRequest{}, yard.Body{}).new(),
		post("retireBody", "/bodies/:id/retire", "Takes a truck or trailer bed out of use.", Nothing{}, Retired{}),
		get("listPromises", "/promise", "What there is and what is promised of it. With a quantity it’s what canPromise answers.", Promises{}),
	}
}

func running() []Operation {
	return []Operation{
		get("season", "/season", "The season so far, added up.", accounts.Season{}),
		get("books", "/season/books.zip", "The books of some days as CSV files in a ZIP.", Archive{}, Parameter{"from", "first day, 2026-01-01"}, Parameter{"to", "last day"}),
		get("showShop", "/shop", "The shop’s settings.", orders.Shop{}),
		post("changeShop", "/shop", "Changes the shop’s settings.", orders.ShopRequest{}, orders.Shop{}),
		get("listBackups", "/shop/backups", "The backups made.", Backups{}),
		post("makeBackup", "/shop/backups", "Makes a backup now.", Nothing{}, Backups{}),
		get("listVehicles", "/road/vehicles", "The vehicles, and where they start from.", road.Park{}),
		post("addVehicle", "/road/vehicles", "Adds a vehicle.", road.VehicleRequest{}, road.Vehicle{}).new(),
		post("retireVehicle", "/road/vehicles/:id/retire", "Takes a vehicle out of use.", Nothing{}, Retired{}),
		post("arrangeRoad", "/road/:day/arrange", "Arranges the trips of a day.", road.ArrangeRequest{}, road.Day{}),
		post("changeRoad", "/road/:day/edit", "Changes the trips of a day.", road.ChangeRequest{}, road.Day{}),
		get("printRoad", "/road/:day/pdf", "The run sheets of a day as a paper.", Paper{}),
		get("me", "/me", "Who the token is of, with the sign-ins and tokens.", people.Card{}),
		get("listPeople", "/people", "Who works here, and who was let in and out.", people.Roll{}),
	}
}

func auditing() []Operation {
	return []Operation{
		post("openAudit", "/audits", "Opens an audit.", audits.Request{}, audits.Audit{}).new(),
		post("noteNotice", "/audits/:id/notice", "Notes that the seller was told.", audits.NoticeRequest{}, audits.Audit{}),
		post("planAudit", "/audits/:id/plan", "Keeps the plan of an audit.", audits.PlanRequest{}, audits.Audit{}),
		post("noteAttendance", "/audits/:id/attendance", "Notes who was there.", audits.AttendanceRequest{}, audits.Audit{}),
		post("noteAudit", "/audits/:id/notes", "Adds a note to an audit.", audits.NoteRequest{}, audits.Audit{}),
		get("printAudit", "/audits/:id/pdf", "The report of a closed audit as a paper.", Paper{}),
		get("listAudits", "/audits", "Audits, the newest first.", AuditList{}, Parameter{"seller", "only of this seller, with what the audits say together"}, Parameter{"before", "only older ones, for the next page"}),
		get("showAudit", "/audits/:id", "An audit and its next step.", Audit{}),
		get("auditHistory", "/audits/:id/history", "Who did what to an audit.", History{}),
	}
}

func public() []Operation {
	return []Operation{
		post("measure", "/measure", "Measures readings. Nothing is saved.", Tally{}, words.AnswerJSON{}),
		get("listRules", "/rules", "The rules of sale there are.", []rules.Set{}),
		get("showRules", "/rules/:code", "One set of rules of sale.", rules.Set{}),
	}
}

func get(id, path, says string, gives any, query ...Parameter) Operation {
	return Operation{ID: id, Method: "GET", Path: path, Page: path, Says: says, Gives: gives, Query: query}
}

func post(id, path, says string, takes, gives any, query ...Parameter) Operation {
	return Operation{ID: id, Method: "POST", Path: path, Page: path, Says: says, Takes: takes, Gives: gives, Query: query}
}

// new is the operation that makes something.
func (o Operation) new() Operation {
	o.New = true
	return o
}

// of is the operation of a page of another path.
func (o Operation) of(page string) Operation {
	o.Page = page
	return o
}
