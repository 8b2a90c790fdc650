package stat

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"foreply/profile/tabletest"
)

const fixtures = "../../testdata/stat"

// row is one line of a fixture table by column name.
type row map[string]string

// table reads a fixture.
func table(t *testing.T, name string) []row {
	t.Helper()
	var rows []row
	for _, r := range tabletest.Table(t, filepath.Join(fixtures, name)) {
		rows = append(rows, r)
	}
	return rows
}

func (r row) float(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

func (r row) int(t *testing.T, column string) int {
	t.Helper()
	v, err := strconv.Atoi(r[column])
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

// workedExamples is the part of worked_examples.json that the tests read.
type workedExamples struct {
	Elo struct {
		Values map[string]float64 `json:"values"`
	} `json:"elo_expected_score"`
	Kish struct {
		Cases []struct {
			Weights []float64 `json:"weights"`
			Size    float64   `json:"n_eff"`
		} `json:"cases"`
	} `json:"kish_effective_sample_size"`
	Brier struct {
		Examples []struct {
			Y             []int             `json:"y"`
			P             []float64         `json:"p"`
			Binary        float64           `json:"binary"`
			ForecastClass []json.RawMessage `json:"forecast_and_class"`
			Original      float64           `json:"original_multi_class"`
		} `json:"examples"`
	} `json:"brier"`
	LogLoss struct {
		Examples []struct {
			P     []float64 `json:"p_of_actual"`
			Value float64   `json:"value"`
		} `json:"examples"`
	} `json:"log_loss"`
	HalfLife struct {
		Cases []struct {
			Age      float64 `json:"age_days"`
			HalfLife float64 `json:"half_life_days"`
			Weight   float64 `json:"weight"`
		} `json:"cases"`
	} `json:"half_life_weights"`
}

func worked(t *testing.T) workedExamples {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(fixtures, "worked_examples.json"))
	if err != nil {
		t.Fatal(err)
	}
	var w workedExamples
	if err := json.Unmarshal(text, &w); err != nil {
		t.Fatal(err)
	}
	if len(w.Elo.Values) == 0 || len(w.Kish.Cases) == 0 || len(w.Brier.Examples) == 0 ||
		len(w.LogLoss.Examples) == 0 || len(w.HalfLife.Cases) == 0 {
		t.Fatal("worked_examples.json lacks a section")
	}
	return w
}

// near reports whether got is within tolerance of want.
func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

// inUnit reports whether p is a probability (false for NaN).
func inUnit(p float64) bool { return p >= 0 && p <= 1 }

// oddFloats are the values that break formulas.
var oddFloats = []float64{
	math.NaN(), math.Inf(-1), -1, -1e-300, 0, 5e-324, 1e-300, 1e-15, 1e-12, 1e-6, 0.1,
	0.5, 1 - 1e-16, 1, 1.5, 3, 20, 1e3, 1e6, 1e8, 1e12, 1e300, math.MaxFloat64, math.Inf(1),
}
