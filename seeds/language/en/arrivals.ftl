# What the server answers a phone about what came late or could not be taken, as the actions say it.

sentence-late-kept = { $why } It was kept as a result of the unit, and the manager sees that it came late.
sentence-late-closed = The turnover was closed before this came in.
sentence-late-cancelled = The turnover was cancelled before this came in.
sentence-late-visit = The visit was cancelled before this came in.
sentence-late-others = The unit was given to others before this came in.
sentence-late-replaced = { $place } was { $gone } before this came in.
sentence-late-others-kept = The unit was given to others before this came in. It was kept, and the manager sees it.
sentence-late-no-deficiency = Nothing stands as deficient that this repair was for. The manager sees what was noted.
sentence-late-unreadable = The server can't read this ({ $problem }). It was kept as it came, and the manager sees it.
sentence-taken-answer = The id of this answer is already taken. Answer once more.
sentence-taken-photo = The id of this photo is already taken. Take it once more.
sentence-taken-other = The id of this is already taken by something else, so it was not taken. Do it once more.
sentence-photo-size = The photo came without its size or its sum. Take it once more.
sentence-photo-many = This answer has { $photos } photos already. Leave out those that show the same.
sentence-photo-large = The photo has { $mega } MiB; at most 10 MiB are taken. Take it again with fewer pixels.
sentence-photo-none = This is no JPEG, PNG or WebP, whatever its name says. Take a photo with the camera.
