package words

// speedWords prints a speed as it stands in a sentence.
func Speed(speed string) string {
	if speed == "slow" {
		return "slow games"
	}
	return speed
}
