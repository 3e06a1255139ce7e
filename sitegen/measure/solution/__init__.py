"""Water, feed, uptake, and the trend of EC and pH."""
