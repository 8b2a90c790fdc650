package compare

import "foreply/compare/find"

// found are the games as the findings take them.
func (c *comparison) found() find.Games { return find.Games{All: c.in.Profile.Games, Tree: c.tree} }
