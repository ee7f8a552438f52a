"""How do the woods move, shrink and weigh?  The table, one row a species, as text so that every decimal is kept.

Columns: name; botanical name; change of width per point of moisture, tangential and radial; shrinkage from green to
ovendry in percent of green size, tangential and radial, empty where not known; specific gravity; status of the
coefficients, the shrinkage and the gravity: c confirmed, d derived, u unconfirmed, - none.

Source: Wood Handbook, US Forest Products Laboratory, FPL-GTR-190 (2010), Tables 13-5 (coefficients), 4-3 and 4-4
(shrinkage); gravity from secondary tables of the Laboratory's values, ovendry weight over volume at 12 % moisture for
the woods of North America and over green volume for the imported ones.  Public domain.

- Confirmed coefficients were read in a text of Table 13-5.  Derived ones were worked out from shrinkage that was read
  in Table 4-3 (see `coefficient_from_shrinkage`) and equal the remembered value of the table; white oak (Quercus alba)
  has no row of its own there and is worked out only.  Unconfirmed ones are remembered.
- The commercial red oak value is a group's; northern red oak alone would move less, so the group's is the safe one.
- Imported woods do not follow from their shrinkage; the larger values of the table are kept.
- European woods are not in these tables: a shop adds its own.
"""

from __future__ import annotations

# fmt: off
ROWS: tuple[tuple[str, str, str, str, str, str, str, str], ...] = (
    ("red alder", "Alnus rubra", "0.00256", "0.00151", "7.3", "4.4", "0.41", "ccc"),
    ("black ash", "Fraxinus nigra", "0.00274", "0.00172", "7.8", "5.0", "0.49", "ccc"),
    ("white ash", "Fraxinus americana", "0.00274", "0.00169", "7.8", "4.9", "0.60", "ccc"),
    ("quaking aspen", "Populus tremuloides", "0.00234", "0.00119", "6.7", "3.5", "0.38", "ccc"),
    ("American basswood", "Tilia americana", "0.00330", "0.00230", "9.3", "6.6", "0.37", "ccc"),
    ("American beech", "Fagus grandifolia", "0.00431", "0.00190", "11.9", "5.5", "0.64", "ccc"),
    ("paper birch", "Betula papyrifera", "0.00304", "0.00219", "8.6", "6.3", "0.55", "ccc"),
    ("yellow birch", "Betula alleghaniensis", "0.00338", "0.00256", "9.5", "7.3", "0.62", "ccc"),
    ("butternut", "Juglans cinerea", "0.00223", "0.00116", "6.4", "3.4", "0.38", "ccc"),
    ("black cherry", "Prunus serotina", "0.00248", "0.00126", "7.1", "3.7", "0.50", "ccc"),
    ("American chestnut", "Castanea dentata", "0.00234", "0.00116", "6.7", "3.4", "0.43", "ccc"),
    ("eastern cottonwood", "Populus deltoides", "0.00327", "0.00133", "9.2", "3.9", "0.40", "ccc"),
    ("American elm", "Ulmus americana", "0.00338", "0.00144", "9.5", "4.2", "0.50", "ccc"),
    ("slippery elm", "Ulmus rubra", "0.00315", "0.00169", "8.9", "4.9", "0.53", "ccc"),
    ("hackberry", "Celtis occidentalis", "0.00315", "0.00165", "8.9", "4.8", "0.53", "ccc"),
    ("pecan hickory", "Carya illinoinensis", "0.00315", "0.00169", "8.9", "4.9", "0.66", "ccc"),
    ("true hickory (group)", "Carya spp.", "0.00411", "0.00259", "", "", "0.72", "u-c"),
    ("black locust", "Robinia pseudoacacia", "0.00252", "0.00158", "7.2", "4.6", "0.69", "cuc"),
    ("bigleaf maple", "Acer macrophyllum", "0.00248", "0.00126", "7.1", "3.7", "0.48", "cuc"),
    ("red maple (soft)", "Acer rubrum", "0.00289", "0.00137", "8.2", "4.0", "0.54", "cuc"),
    ("silver maple (soft)", "Acer saccharinum", "0.00252", "0.00102", "7.2", "3.0", "0.47", "cuu"),
    ("sugar maple (hard)", "Acer saccharum", "0.00353", "0.00165", "9.9", "4.8", "0.63", "cuc"),
    ("red oak (commercial group)", "Quercus spp. (red oak group)", "0.00369", "0.00158", "", "", "0.63", "c-u"),
    ("northern red oak", "Quercus rubra", "0.00304", "0.00137", "8.6", "4.0", "0.63", "uuu"),
    ("white oak (commercial group)", "Quercus spp. (white oak group)", "0.00365", "0.00180", "", "", "0.68", "c-u"),
    ("white oak", "Quercus alba", "0.00376", "0.00194", "10.5", "5.6", "0.68", "dcc"),
    ("sassafras", "Sassafras albidum", "0.00216", "0.00137", "6.2", "4.0", "0.46", "ccu"),
    ("sweetgum", "Liquidambar styraciflua", "0.00365", "0.00183", "10.2", "5.3", "0.52", "ccc"),
    ("American sycamore", "Platanus occidentalis", "0.00296", "0.00172", "8.4", "5.0", "0.49", "ccu"),
    ("black tupelo", "Nyssa sylvatica", "0.00308", "0.00176", "8.7", "5.1", "0.50", "ccu"),
    ("black walnut", "Juglans nigra", "0.00274", "0.00190", "7.8", "5.5", "0.55", "ccc"),
    ("black willow", "Salix nigra", "0.00308", "0.00112", "8.7", "3.3", "0.39", "dcu"),
    ("yellow-poplar (tulipwood)", "Liriodendron tulipifera", "0.00289", "0.00158", "8.2", "4.6", "0.42", "dcc"),
    ("baldcypress", "Taxodium distichum", "0.00216", "0.00130", "6.2", "3.8", "0.46", "uuc"),
    ("yellow cedar (Alaska)", "Callitropsis nootkatensis", "0.00208", "0.00095", "6.0", "2.8", "0.44", "dcc"),
    ("Atlantic white cedar", "Chamaecyparis thyoides", "0.00187", "0.00099", "5.4", "2.9", "0.32", "dcc"),
    ("eastern red cedar", "Juniperus virginiana", "0.00162", "0.00106", "4.7", "3.1", "0.47", "dcu"),
    ("incense cedar", "Calocedrus decurrens", "0.00180", "0.00112", "5.2", "3.3", "0.37", "dcu"),
    ("northern white cedar", "Thuja occidentalis", "0.00229", "0.00101", "4.9", "2.2", "0.31", "dcu"),
    ("Port-Orford cedar", "Chamaecyparis lawsoniana", "0.00241", "0.00158", "6.9", "4.6", "0.43", "dcc"),
    ("western red cedar", "Thuja plicata", "0.00234", "0.00111", "5.0", "2.4", "0.32", "dcu"),
    ("coast Douglas-fir", "Pseudotsuga menziesii", "0.00267", "0.00165", "7.6", "4.8", "0.48", "dcu"),
    ("interior north Douglas-fir", "Pseudotsuga menziesii var. glauca",
     "0.00241", "0.00130", "6.9", "3.8", "0.48", "dcu"),
    ("balsam fir", "Abies balsamea", "0.00241", "0.00099", "6.9", "2.9", "0.35", "dcu"),
    ("noble fir", "Abies procera", "0.00293", "0.00148", "8.3", "4.3", "0.39", "dcu"),
    ("white fir", "Abies concolor", "0.00245", "0.00112", "7.0", "3.3", "0.39", "dcu"),
    ("eastern hemlock", "Tsuga canadensis", "0.00237", "0.00102", "6.8", "3.0", "0.40", "uuu"),
    ("western hemlock", "Tsuga heterophylla", "0.00274", "0.00144", "7.8", "4.2", "0.45", "uuc"),
    ("western larch", "Larix occidentalis", "0.00323", "0.00155", "9.1", "4.5", "0.52", "uuu"),
    ("eastern white pine", "Pinus strobus", "0.00212", "0.00071", "6.1", "2.1", "0.35", "uuu"),
    ("loblolly pine", "Pinus taeda", "0.00259", "0.00165", "7.4", "4.8", "0.51", "uuu"),
    ("longleaf pine", "Pinus palustris", "0.00263", "0.00176", "7.5", "5.1", "0.59", "uuu"),
    ("lodgepole pine", "Pinus contorta", "0.00234", "0.00148", "6.7", "4.3", "0.41", "uuu"),
    ("ponderosa pine", "Pinus ponderosa", "0.00216", "0.00133", "6.2", "3.9", "0.40", "uuu"),
    ("red pine", "Pinus resinosa", "0.00252", "0.00130", "7.2", "3.8", "0.46", "uuu"),
    ("shortleaf pine", "Pinus echinata", "0.00271", "0.00158", "7.7", "4.6", "0.51", "uuu"),
    ("sugar pine", "Pinus lambertiana", "0.00194", "0.00099", "5.6", "2.9", "0.36", "uuu"),
    ("western white pine", "Pinus monticola", "0.00259", "0.00141", "7.4", "4.1", "0.38", "uuu"),
    ("old-growth redwood", "Sequoia sempervirens", "0.00205", "0.00120", "4.4", "2.6", "0.40", "uuu"),
    ("young-growth redwood", "Sequoia sempervirens", "0.00229", "0.00101", "4.9", "2.2", "0.35", "uuu"),
    ("Engelmann spruce", "Picea engelmannii", "0.00248", "0.00130", "7.1", "3.8", "0.35", "uuu"),
    ("red spruce", "Picea rubens", "0.00274", "0.00130", "7.8", "3.8", "0.40", "uuu"),
    ("Sitka spruce", "Picea sitchensis", "0.00263", "0.00148", "7.5", "4.3", "0.40", "uuu"),
    ("true mahogany (Central/South American)", "Swietenia macrophylla",
     "0.00238", "0.00172", "4.1", "3.0", "0.45", "ucu"),
    ("African mahogany", "Khaya spp.", "0.00201", "0.00141", "4.5", "2.5", "0.42", "ucu"),
    ("Spanish-cedar", "Cedrela spp.", "0.00219", "0.00141", "6.3", "4.2", "0.41", "uuu"),
    ("sapele", "Entandrophragma cylindricum", "0.00259", "0.00158", "7.4", "4.6", "0.55", "uuu"),
    ("teak", "Tectona grandis", "0.00186", "0.00101", "5.8", "2.5", "0.55", "uuu"),
)
# fmt: on
