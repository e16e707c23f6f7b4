"""What can be measured on a picture of a standing dog, how surely, and how one dog is laid over another.

Someone places anatomical points on the picture (`points`). Angles and proportions follow from them by
plain trigonometry (`measures`, and `club_measures` for what a club adds). No one places a point exactly,
and no lens sees a dog quite square, so every value comes with its standard deviation (`propagation`) and
the verdict on a clause may be "cannot tell". `construction` says which lines show a measure on the
picture; `alignment` lays one dog over another; `spread` pools what several people placed.

Picture coordinates: x right, y down, in units of the picture's longer side. Angles in degrees.
"""
