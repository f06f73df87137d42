"""The page in 3D: what is seen and told of an aircraft in a room, and the page that holds it."""
