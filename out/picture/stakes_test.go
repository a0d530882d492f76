package picture

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"rollchange/model"
	"rollchange/out/invented"
)

// The picture of a figure of money, and of one that never pays back.
func TestStakesPlot(t *testing.T) {
	s := invented.Sensed()
	has(t, sound(t, "stakes-npv", Stakes(s, "npv", 10, model.Metric)), "Net present value after tax, thousand EUR: automatic", "0.18 EUR/m2", "in both alternatives")
	has(t, sound(t, "stakes-payback", Stakes(s, "payback", 10, model.Metric)), "Payback after tax, years: automatic", "0.18 EUR/m2: never")
	has(t, sound(t, "stakes-waste", Stakes(s, "waste.total", 10, model.Metric)), "Total waste, %: automatic", "mean 18.9 m")
	assert.NotContains(t, fmt.Sprint(sound(t, "stakes-waste", Stakes(s, "waste.total", 10, model.Metric))), "jobs.scrap")
	s.Swings["npv"] = nil
	assert.Nil(t, Stakes(s, "npv", 10, model.Metric))
}
