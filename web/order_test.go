package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOrderIsTakenInTheCustomersWords(t *testing.T) {
	d := withShop(t)
	page := d.get(d.takeOrder("1 1/3 cords"))
	require.Equal(t, http.StatusOK, page.status)
	assert.Contains(t, page.text(), "1 1/3 cords")
	assert.Contains(t, page.text(), "Ada Moss")
	assert.Contains(t, page.text(), "$373.33", "4/3 × 280.00, rounded once")
	assert.Contains(t, d.get("/").text(), "Ada Moss")
}
