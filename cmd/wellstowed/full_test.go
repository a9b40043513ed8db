package main

import (
	"bytes"
	"encoding/json"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/disk"
)

// A smallDisk is a served shop on a disk of 4 MB of its own, which other users of the
// machine don't see.
type smallDisk struct {
	*yardWay
	folder string // as this process sees it
}

// onSmallDisk serves a copy of a shop on a small disk. Only Linux has such disks for
// whoever asks, and not everywhere.
func onSmallDisk(t *testing.T) *smallDisk {
	t.Helper()
	if err := exec.Command("unshare", "-Urm", "true").Run(); err != nil {
		t.Skip("this machine gives no disk of one’s own (unshare -Urm):", err)
	}
	y := newYard(t)
	y.start()
	y.shop()
	y.stop()
	folder := t.TempDir()
	cmd := exec.CommandContext(t.Context(), "unshare", "-Urm", "sh", "-c",
		`mount -t tmpfs -o size=4m none "$0" && cp "$1"* "$0" && exec "$2" serve --db "$0/shop.db" --listen "$3"`, folder, y.db, y.bin, y.address)
	cmd.Dir = folder
	y.run(cmd)
	t.Cleanup(y.stop)
	return &smallDisk{y, filepath.Join("/proc", strconv.Itoa(cmd.Process.Pid), "root", folder)}
}

// fill takes all room there is.
func (d *smallDisk) fill() {
	d.t.Helper()
	file, err := os.Create(filepath.Join(d.folder, "filler"))
	require.NoError(d.t, err)
	for err == nil {
		_, err = file.Write(make([]byte, 4096))
	}
	require.NoError(d.t, file.Close())
}

// send sends an order with a request's id, and gives the status and the answer.
func (d *smallDisk) send(order map[string]any, request string) (status int, answer map[string]any) {
	d.t.Helper()
	body, err := json.Marshal(order)
	require.NoError(d.t, err)
	req, err := http.NewRequestWithContext(d.t.Context(), http.MethodPost, "http://"+d.address+"/orders", bytes.NewReader(body))
	require.NoError(d.t, err)
	req.Header = http.Header{"Content-Type": {"application/json"}, "Accept": {"application/json"}, "Idempotency-Key": {request}}
	got, err := http.DefaultClient.Do(req)
	require.NoError(d.t, err)
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	require.NoError(d.t, err)
	require.NoError(d.t, json.Unmarshal(text, &answer), "%s", text)
	return got.StatusCode, answer
}

func (d *smallDisk) health() int {
	d.t.Helper()
	got, err := http.Get("http://" + d.address + "/healthz")
	require.NoError(d.t, err)
	require.NoError(d.t, got.Body.Close())
	return got.StatusCode
}

// A disk that fills up while the shop is open is told with each order that can't be saved
// and by /healthz; what was answered before is there, and once there is room the same
// request is done, once.
func TestADiskThatFillsUpIsToldAndLosesNothing(t *testing.T) {
	t.Parallel()
	d := onSmallDisk(t)
	order := map[string]any{"customer_name": "Ada Moss", "quantity": "1 cord", "species": "red oak", "piece_length": "16 in", "price_per_cord": "280"}
	order["confirmed"] = d.ask("/orders/price", order)["confirmed"]
	took := map[string]bool{}
	take := func(request string) (status int, detail string) {
		status, answer := d.send(order, request)
		if status == http.StatusCreated {
			took[answer["id"].(string)] = true
			return status, ""
		}
		return status, answer["detail"].(string)
	}
	for range 5 {
		status, detail := take(uuid.NewString())
		require.Equal(t, http.StatusCreated, status, detail)
	}
	d.fill()
	refused, detail := uuid.NewString(), ""
	for status := http.StatusCreated; status == http.StatusCreated; { // room in the log may be left for a few
		require.Less(t, len(took), 200, "the disk is full, and everything is saved")
		refused = uuid.NewString()
		status, detail = take(refused)
		require.Contains(t, []int{http.StatusCreated, http.StatusServiceUnavailable}, status)
	}
	assert.Contains(t, detail, "The disk is full. Nothing was saved; make room on it and send it again.")
	assert.Equal(t, http.StatusServiceUnavailable, d.health())

	require.NoError(t, os.Remove(filepath.Join(d.folder, "filler")))
	assert.Equal(t, http.StatusOK, d.health())
	before := len(took)
	for range 2 {
		status, detail := take(refused)
		require.Equal(t, http.StatusCreated, status, detail)
	}
	require.Len(t, took, before+1, "sent twice, done once")
	for id := range took {
		d.ask("/orders/"+id, nil)
	}
	copied := filepath.Join(t.TempDir(), "shop.db")
	require.NoError(t, disk.CopyFile(filepath.Join(d.folder, "shop.db"), copied))
	require.NoError(t, disk.CopyFile(filepath.Join(d.folder, "shop.db-wal"), copied+"-wal"))
	v := program(t, "", "verify", "--db", copied)
	require.Equal(t, exitDone, v.code, v.out+v.err)
}
