package web_test

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWhatAnotherSitesPageSendsIsRefused(t *testing.T) {
	d := withShop(t)
	for _, row := range []struct {
		header, value string
		done          bool
	}{
		{"Sec-Fetch-Site", "same-origin", true}, {"Sec-Fetch-Site", "none", true},
		{"Sec-Fetch-Site", "cross-site", false}, {"Sec-Fetch-Site", "same-site", false}, {"Sec-Fetch-Site", "anything", false},
		{"Origin", "http://127.0.0.1:8128", true}, {"Origin", "http://127.0.0.1:9000", false}, {"Origin", "https://127.0.0.1:8128", false},
		{"Origin", "http://evil.example", false}, {"Origin", "null", false}, {"Origin", "http://127.0.0.1:8128.evil.example", false},
	} {
		form := d.get("/shop")
		sent := formRequest("/shop", form.values)
		sent.Header.Set(row.header, row.value)
		want := http.StatusSeeOther
		if !row.done {
			want = http.StatusForbidden
		}
		assert.Equal(t, want, d.do(sent).status, "a form with its token and %s %s", row.header, row.value)
		program := jsonRequest("/orders/price", `{}`)
		program.Header.Set(row.header, row.value)
		assert.Equal(t, row.done, d.do(program).status != http.StatusForbidden, "JSON with %s %s", row.header, row.value)
	}
}

func TestComingInIsTriedAFewTimesOnly(t *testing.T) {
	d := withOwner(t).another()
	for i := range 9 { // the owner came in once
		require.Equal(t, http.StatusUnprocessableEntity, d.signIn("Rosalind Pike", fmt.Sprint("guess number ", i)).status)
	}
	a := d.signIn("Rosalind Pike", ownersPassword)
	require.Equal(t, http.StatusTooManyRequests, a.status)
	assert.Equal(t, "91", a.header.Get("Retry-After"), "seconds")
	assert.Contains(t, a.text(), "tried too often")
	code := d.get("/pair").fill("Code", "H7K4 2MQ9").press("Come in")
	assert.Equal(t, http.StatusTooManyRequests, code.status, "codes are counted with passwords")
	again := d.get("/sign-in")
	again.values.Set("again_name", "Rosalind Pike")
	again.values.Set("again_password", ownersPassword)
	assert.Equal(t, http.StatusTooManyRequests, d.post("/shop", again.values).status, "and so is signing in with a form")
}

// raw sends bytes to a server that listens, and gives what it answers.
func (d *desk) raw(text string) *http.Response {
	d.t.Helper()
	conn, err := net.Dial("tcp", d.listen())
	require.NoError(d.t, err)
	d.t.Cleanup(func() { conn.Close() })
	_, err = io.WriteString(conn, text)
	require.NoError(d.t, err)
	answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
	require.NoError(d.t, err)
	return answer
}

func (d *desk) listen() string {
	d.t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(d.t, err)
	go func() { _ = d.server.Serve(l) }()
	d.t.Cleanup(func() { _ = d.server.Shutdown(d.t.Context()) })
	return l.Addr().String()
}

// What headers already say is refused before the body came: the body is never sent here.
func TestHeadersAreJudgedBeforeTheBodyComes(t *testing.T) {
	d := withOwner(t)
	const form = "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 60000\r\n\r\n"
	for name, row := range map[string]struct {
		head string
		want int
	}{
		"a foreign host":       {"POST /shop HTTP/1.1\r\nHost: evil.example\r\n" + form, http.StatusMisdirectedRequest},
		"two hosts":            {"POST /shop HTTP/1.1\r\nHost: evil.example\r\nHost: localhost\r\n" + form, http.StatusBadRequest},
		"another site":         {"POST /shop HTTP/1.1\r\nHost: localhost\r\nSec-Fetch-Site: cross-site\r\n" + form, http.StatusForbidden},
		"a photo from nobody":  {"POST /audits/0190a000-0000-7000-8000-000000000000/photos HTTP/1.1\r\nHost: localhost\r\nAccept: text/html\r\nContent-Type: multipart/form-data; boundary=x\r\nContent-Length: 9000000\r\n\r\n", http.StatusUnauthorized},
		"a photo, said a form": {"POST /audits/0190a000-0000-7000-8000-000000000000/photos HTTP/1.1\r\nHost: localhost\r\nAccept: text/html\r\n" + form, http.StatusUnauthorized},
	} {
		assert.Equal(t, row.want, d.raw(row.head+strings.Repeat("x", 8*1024)).StatusCode, name)
	}
}

// A body that says no length is read no further than its route takes.
func TestBodyInPiecesIsLimitedToo(t *testing.T) {
	d := withShop(t)
	var chunks bytes.Buffer
	piece := strings.Repeat("x", 8192)
	for range 12 {
		fmt.Fprintf(&chunks, "%x\r\n%s\r\n", len(piece), piece)
	}
	chunks.WriteString("0\r\n\r\n")
	const head = "POST /shop HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-www-form-urlencoded\r\nTransfer-Encoding: chunked\r\n\r\n"
	assert.Equal(t, http.StatusRequestEntityTooLarge, d.raw(head+chunks.String()).StatusCode)
	values := d.get("/shop").values
	values.Set("name", strings.Repeat("Alder ", 2000)) // 12 kB, in pieces
	body := values.Encode()
	cookies := ""
	for name, value := range d.jar {
		cookies += "Cookie: " + name + "=" + value + "\r\n"
	}
	small := strings.Replace(head, "\r\n\r\n", "\r\n"+cookies+"\r\n", 1) + fmt.Sprintf("%x\r\n%s\r\n0\r\n\r\n", len(body), body)
	assert.Equal(t, http.StatusUnprocessableEntity, d.raw(small).StatusCode, "read whole, and the name is too long")
}

func TestOtherProgramsCookiesDontShutAnybodyOut(t *testing.T) {
	d := withShop(t)
	assert.Equal(t, http.StatusOK, d.raw("GET / HTTP/1.1\r\nHost: localhost\r\nCookie: other="+strings.Repeat("x", 9000)+"\r\n\r\n").StatusCode)
}
