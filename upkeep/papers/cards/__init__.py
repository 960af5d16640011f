"""Small papers that stay with a thing or a person: labels, badges, life tags, the cards at a station."""
