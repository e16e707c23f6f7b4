"""Points and polygons in the plane.

`polygons`: a region drawn on a picture is one simple polygon or several. Here it is checked that a
drawn line is a proper outline, how far pins lie from regions, how far two regions lie apart, and which
ground several people's regions have in common.

`outlines`: outlines as a browser sends them, taken only if they can be used on the picture as they are.

`planes`: similarity transforms as matrices, and the one that lays given points best over others.

Nothing here knows what a dog is. Coordinates are plain numbers in any unit, as long as both axes use the
same one; a distance comes out in that unit.
"""
