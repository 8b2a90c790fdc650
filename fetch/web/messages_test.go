package web

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"

	"golang.org/x/text/encoding/unicode"
)

func utf16Text(text string) string {
	out, _ := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(text)
	return out
}

// answers is a server that always says the same.
func answers(t *testing.T, status int, header, value, body string) *asked {
	return serve(t, func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set(header, value)
		w.WriteHeader(status)
		io.WriteString(w, body)
	})
}

// Answers that no server should give have an error that says what is odd, with a hint;
// they are asked for once.
func TestOddAnswers(t *testing.T) {
	for name, c := range map[string]struct {
		status              int
		header, value, body string
		want, hint          string
	}{
		"zstd that is none":   {200, "Content-Encoding", "zstd", "\x28\xb5\x2f\xfd" + tales(1), "the packed answer is damaged", "if it stays so, the server packs wrongly"},
		"gzip with a bad sum": {200, "Content-Encoding", "gzip", badSum(packed(tales(1, 2))), "the packed answer is damaged", "what came is kept; if it stays so"},
		"no address to go to": {302, "Location", "http://[::1", "", "redirect refused: it leads to what is no address", "--dry-run"},
		"nowhere to go":       {302, "X-Other", "x", "", "302 Found", "no answer that foreply knows"},
	} {
		t.Run(name, func(t *testing.T) {
			site := answers(t, c.status, c.header, c.value, c.body)
			v := newVisit(t, Description{URL: site.URL + "/{player}"})
			if got := v.badly(c.want, c.hint); got.Requests != 1 {
				t.Errorf("asked %d times", got.Requests)
			}
		})
	}
}

func packed(text string) string {
	var out bytes.Buffer
	z := gzip.NewWriter(&out)
	io.WriteString(z, text)
	z.Close()
	return out.String()
}

func badSum(packed string) string {
	out := []byte(packed)
	out[len(out)-5] ^= 1
	return string(out)
}

// What came before the damage is kept.
func TestGamesBeforeTheDamage(t *testing.T) {
	site := answers(t, 200, "Content-Encoding", "gzip", badSum(packed(tales(1, 2, 3))))
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	v.badly("the packed answer is damaged", "what came is kept")
	v.keeps(1, 2, 3)
}

// An odd byte behind UTF-16 costs nothing but is told.
func TestOddByteOfUTF16(t *testing.T) {
	site := answers(t, 200, "X-Other", "x", utf16Text(tales(1, 2))+"x")
	v := newVisit(t, Description{URL: site.URL + "/{player}"})
	a := v.well()
	if a.New != 2 || len(a.Problems) == 0 || !strings.Contains(a.Problems[len(a.Problems)-1].Message, "outside of any game") {
		t.Errorf("%+v", a)
	}
}

// What answers may be no web server at all.
func TestNoHTTP(t *testing.T) {
	for _, line := range []string{"HTP/1.1 200 OK\r\n\r\n", "HTTP/1.1 20x OK\r\n\r\n", "hello\n", "HTTP/1.1 200 OK\r\nno colon\r\n\r\n", "HTTP/1.1 200 OK\r\nContent-Length: x\r\n\r\n"} {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			t.Fatal(err)
		}
		go func() {
			for {
				c, err := l.Accept()
				if err != nil {
					return
				}
				http.ReadRequest(bufio.NewReader(c))
				io.WriteString(c, line)
				c.Close()
			}
		}()
		v := newVisit(t, Description{URL: "http://" + l.Addr().String() + "/{player}"})
		if got := v.badly("what answers there does not speak HTTP: ", "with its port?"); got.Requests != 1 {
			t.Errorf("%q: asked %d times", line, got.Requests)
		}
		l.Close()
	}
}

// A list that has addresses, none of which is one.
func TestListOfOddAddresses(t *testing.T) {
	site := answers(t, 200, "Content-Type", "application/json", `["http://[::1", "http://a b/"]`)
	v := newVisit(t, Description{URL: "{address}", Pages: "list", List: site.URL + "/{player}"})
	v.badly(`reading the list: the list has "http://[::1", which is no address`, "list_path")
}
