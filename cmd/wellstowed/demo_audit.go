package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"time"

	"github.com/google/uuid"

	"wellstowed/orders/audits"
)

// A demoAudit is one audit and how far it went, in days before today.
type demoAudit struct {
	DaysAgo    int                       `json:"days_ago"`
	Of         string                    `json:"of"` // customer whose last receipt it is of; empty: a load with no order
	Open       audits.Request            `json:"open"`
	Notice     *audits.NoticeRequest     `json:"notice"`
	Hold       *audits.HoldRequest       `json:"hold"`
	Plan       *audits.PlanRequest       `json:"plan"`
	Measurers  []demoMeasurer            `json:"measurers"`
	Photo      *audits.PhotoRequest      `json:"photo"`
	Attendance *audits.AttendanceRequest `json:"attendance"`
	Items      []audits.ItemRequest      `json:"items"`
	Close      *audits.CloseRequest      `json:"close"`
	Notes      []audits.NoteRequest      `json:"notes"`
}

// A demoMeasurer is somebody who measured. What Struck holds was handed in first.
type demoMeasurer struct {
	Name     string          `json:"name"`
	Struck   json.RawMessage `json:"struck"`
	Reason   string          `json:"reason"`
	Document json.RawMessage `json:"document"` // not there: nothing handed in yet
	// Told is as what and with which tape; when is worked out.
	Told audits.CircumstancesRequest `json:"told"`
}

// audit opens an audit and takes it as far as the scenario does. Times of a day are
// given as hours and minutes, and are of the day it was opened.
func (s *seeder) audit(d demoAudit) error {
	s.at(d.DaysAgo)
	s.now = s.now.Add(5 * time.Hour)
	if d.Of != "" {
		n, err := s.receiptOf(d.Of)
		if err != nil {
			return err
		}
		d.Open.Receipt = fmt.Sprint(n)
	} else {
		d.Open.DeliveredOn = s.now.AddDate(0, 0, -2).Format(time.DateOnly)
	}
	a, err := s.audits.OpenAudit(s.ctx, s.act(), d.Open)
	if err != nil {
		return err
	}
	day := s.now.AddDate(0, 0, -1).Format(time.DateOnly) + " "
	if d.Notice != nil {
		d.Notice.When, d.Notice.Appointed = day+d.Notice.When, s.now.Format(time.DateOnly)+" "+d.Notice.Appointed
		if _, err := s.audits.NotifySeller(s.ctx, s.act(), a.ID, *d.Notice); err != nil {
			return err
		}
	}
	if d.Hold != nil {
		d.Hold.Since = day + d.Hold.Since
		if _, err := s.audits.HoldWood(s.ctx, s.act(), a.ID, *d.Hold); err != nil {
			return err
		}
	}
	if d.Plan != nil {
		if _, err := s.audits.PlanAudit(s.ctx, s.act(), a.ID, *d.Plan); err != nil {
			return err
		}
	}
	for _, h := range d.Measurers {
		if err := s.auditMeasurer(a.ID, h); err != nil {
			return fmt.Errorf("hand %s: %w", h.Name, err)
		}
	}
	return s.auditEnd(a.ID, d)
}

func (s *seeder) auditMeasurer(id string, h demoMeasurer) error {
	s.now = s.now.Add(7 * time.Minute)
	link, err := s.audits.AddMeasurer(s.ctx, s.act(), id, audits.MeasurerRequest{Name: h.Name})
	if err != nil {
		return err
	}
	s.now = s.now.Add(2 * time.Minute)
	if _, err := s.audits.OpenMeasuring(s.ctx, link.Code); err != nil || h.Document == nil {
		return err
	}
	shop, err := s.service.Shop(s.ctx, atTheTerminal())
	if err != nil {
		return err
	}
	zone, err := time.LoadLocation(shop.Zone)
	if err != nil {
		return err
	}
	clock := func() string { return s.now.In(zone).Format("2006-01-02 15:04") }
	h.Told.Began = clock()
	s.now = s.now.Add(25 * time.Minute)
	h.Told.Ended, h.Told.CheckedOn = clock(), s.now.In(zone).AddDate(0, 0, -1).Format(time.DateOnly)
	if h.Struck != nil {
		if err := s.handIn(link.Code, audits.ReadingRequest{Document: h.Struck, Told: h.Told}); err != nil {
			return err
		}
		s.now = s.now.Add(4 * time.Minute)
	}
	return s.handIn(link.Code, audits.ReadingRequest{Document: h.Document, Reason: h.Reason, Told: h.Told})
}

func (s *seeder) handIn(code string, r audits.ReadingRequest) error {
	r.HandIn = true
	_, err := s.audits.SaveReading(s.ctx, uuid.Must(uuid.NewV7()).String(), code, r)
	return err
}

// auditEnd writes down what comes after measuring.
func (s *seeder) auditEnd(id string, d demoAudit) error {
	if d.Photo != nil {
		d.Photo.Bytes = demoPhoto()
		if _, err := s.audits.AddPhoto(s.ctx, s.act(), id, *d.Photo); err != nil {
			return err
		}
	}
	if d.Attendance != nil {
		if _, err := s.audits.NoteAttendance(s.ctx, s.act(), id, *d.Attendance); err != nil {
			return err
		}
	}
	if len(d.Items) > 0 {
		if _, err := s.audits.AnswerItems(s.ctx, s.act(), id, audits.ItemsRequest{Items: d.Items}); err != nil {
			return err
		}
	}
	if d.Close != nil {
		if _, err := s.audits.CloseAudit(s.ctx, s.act(), id, *d.Close); err != nil {
			return err
		}
	}
	for _, n := range d.Notes {
		if _, err := s.audits.NoteAudit(s.ctx, s.act(), id, n); err != nil {
			return err
		}
	}
	return nil
}

// receiptOf is the number of a customer's last receipt.
func (s *seeder) receiptOf(customer string) (int64, error) {
	list, err := s.service.Orders(s.ctx, atTheTerminal(), 0, 100)
	if err != nil {
		return 0, err
	}
	for _, o := range list.Orders {
		if o.Customer.Name != customer {
			continue
		}
		h, err := s.service.History(s.ctx, atTheTerminal(), o.ID)
		if err != nil {
			return 0, err
		}
		if n := len(h.Loads); n > 0 {
			return h.Loads[n-1].Receipt, nil
		}
	}
	return 0, fmt.Errorf("%s has no receipt", customer)
}

// demoPhoto draws the front of a stack, as no photo of real wood may stand in for
// invented wood.
func demoPhoto() []byte {
	const width, height, round = 960, 540, 60
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			dx, dy := x%round-round/2, y%round-round/2
			far := dx*dx + dy*dy
			shade := color.RGBA{60, 45, 35, 255} // bark and shadow
			if far < 27*27 {
				ring := uint8(8 * (far / 60 % 3))
				shade = color.RGBA{205 - ring, 170 - ring, 120 - ring, 255}
			}
			img.Set(x, y, shade)
		}
	}
	var b bytes.Buffer
	_ = png.Encode(&b, img) // into memory
	return b.Bytes()
}
