"""Laws of the plane: circles, regions, routes, trees."""
