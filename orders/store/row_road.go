package store

import (
	"encoding/json"
	"errors"
	"fmt"

	"gorm.io/gorm"

	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/road"
)

// Road is the database as the road is planned in it.
func (db *DB) Road() act.Store[road.Tx] {
	return act.Narrow(whole{db}, func(t tx) road.Tx { return t })
}

type vehicleRow struct {
	ID         string `gorm:"primaryKey"`
	Name       string
	BedID      string
	Placard    int64
	People     int64
	Gross      int64
	Registered int64
	Scale      int64
	Created    int64
	Retired    int64
}

func (vehicleRow) TableName() string { return "vehicles" }

// Vehicles gives those in use, oldest first, without their beds.
func (t tx) Vehicles() ([]road.Vehicle, error) {
	var rows []vehicleRow
	if err := t.db.Where("retired = ?", 0).Order("created, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	all := make([]road.Vehicle, len(rows))
	for i, r := range rows {
		all[i] = road.Vehicle{ID: r.ID, Name: r.Name, Bed: r.BedID, Created: instant(r.Created), Limit: storage.Limit{
			Placard: wood.Mass(r.Placard), People: wood.Mass(r.People), Gross: wood.Mass(r.Gross),
			Registered: wood.Mass(r.Registered), Scale: wood.Mass(r.Scale),
		}}
	}
	return all, nil
}

// AddVehicle adds a vehicle.
func (t tx) AddVehicle(v road.Vehicle) error {
	return t.db.Create(&vehicleRow{
		ID: v.ID, Name: v.Name, BedID: v.Bed, Placard: int64(v.Limit.Placard), People: int64(v.Limit.People), Gross: int64(v.Limit.Gross),
		Registered: int64(v.Limit.Registered), Scale: int64(v.Limit.Scale), Created: micros(v.Created),
	}).Error
}

// RetireVehicle takes a vehicle out of use.
func (t tx) RetireVehicle(id string) error {
	done := t.db.Model(&vehicleRow{}).Where("id = ? AND retired = ?", id, 0).Select("Retired").Updates(vehicleRow{Retired: 1})
	if done.Error == nil && done.RowsAffected == 0 {
		return act.NewNotFound("that vehicle isn’t in use here")
	}
	return done.Error
}

type roadYardRow struct {
	ID      int64 `gorm:"primaryKey;autoIncrement:false"`
	Version int64
	Place   string
}

func (roadYardRow) TableName() string { return "road_yard" }

// Yard gives where the vehicles start.
func (t tx) Yard() (road.Yard, error) {
	var r roadYardRow
	err := t.db.Where("id = ?", 1).Take(&r).Error
	return road.Yard{Version: r.Version, Place: r.Place}, err
}

// SaveYard saves over y.Version.
func (t tx) SaveYard(y road.Yard) error {
	return changedOne(t.db.Model(&roadYardRow{}).Where("id = ? AND version = ?", 1, y.Version).
		Select("Version", "Place").Updates(roadYardRow{Version: y.Version + 1, Place: y.Place}))
}

type roadPlanRow struct {
	Day     string `gorm:"primaryKey"`
	Version int64
	ByHand  int64
	Proven  int64
	Trips   string
	Changed int64
}

func (roadPlanRow) TableName() string { return "road_plans" }

// Plan gives that of a day; without one, that day with Version 0.
func (t tx) Plan(on act.Date) (road.Plan, error) {
	var r roadPlanRow
	err := t.db.Where("day = ?", on.String()).Take(&r).Error
	if errors.Is(err, gorm.ErrRecordNotFound) {
		return road.Plan{Day: on}, nil
	}
	if err != nil {
		return road.Plan{}, err
	}
	p := road.Plan{Day: on, Version: r.Version, ByHand: r.ByHand != 0, Proven: r.Proven != 0, Changed: instant(r.Changed)}
	if err := json.Unmarshal([]byte(r.Trips), &p.Trips); err != nil {
		return p, fmt.Errorf("plan of %s: %w", on, err)
	}
	return p, nil
}

// SavePlan saves over p.Version, or adds the first plan of its day.
func (t tx) SavePlan(p road.Plan) error {
	trips, err := json.Marshal(p.Trips)
	if err != nil {
		return err
	}
	row := roadPlanRow{Day: p.Day.String(), Version: p.Version + 1, Trips: string(trips), Changed: micros(p.Changed)}
	if p.ByHand {
		row.ByHand = 1
	}
	if p.Proven {
		row.Proven = 1
	}
	if p.Version == 0 {
		return t.db.Create(&row).Error
	}
	return changedOne(t.db.Model(&roadPlanRow{}).Where("day = ? AND version = ?", row.Day, p.Version).Select("*").Omit("Day").Updates(row))
}
