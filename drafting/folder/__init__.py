"""Writing a pattern's files into a folder together, so that it holds one whole pattern whatever happens.

Several files can't be renamed in one go, and a folder can't be exchanged for another while someone's own notes lie in
it or a viewer stands open in it. So there is a **journal**. All new files are written first, in a hidden folder
within the folder (``WORKING``), down to the disk, and before them the journal, which names them and doesn't count
yet. Then one rename puts the journal in its place: that is the switch, from which on the new pattern counts. What
follows only brings the folder into line with it: old files are moved aside, new ones moved in, those of the pattern
before that the new one hasn't got are taken out, and at last the journal and the hidden folder go. Each of these
steps may be taken twice, so whoever comes to the folder next can take them up where a run was killed. Without a
journal, what lies in the hidden folder is idle, and the old pattern stands untouched.

While the run lives, a step that fails (a viewer holds an old file open) has everything put back as it was; where even
that fails, the journal stays for the next run. Weighed against it: a folder for each version and a link to the newest
needs links, which not every disk has, and would leave people to look for their files in a folder of the program's.

Only files that the program made are ever replaced or taken away (``drafting.seal``); two runs never write at once
(``lock``).
"""

from drafting.folder.ours import Older, find_older, refuse_foreign, refuse_place
from drafting.folder.write import settle_folder, write_files

__all__ = ["Older", "find_older", "refuse_foreign", "refuse_place", "settle_folder", "write_files"]
