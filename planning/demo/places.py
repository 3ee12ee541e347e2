"""Nine countries: common first and last names, streets, and towns that are on no map.

Names are mixed by arithmetic, so that nobody in particular is meant. In a street `{n}` is a house number; in a postcode
# stands for a digit and @ for a letter. The United Arab Emirates have no postcodes.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Town:
    """A town with its region, where addresses name one, and the pattern of its postcodes."""

    name: str
    region: str = ""
    postcode: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Country:
    """What people and addresses of a country are made from. share: of a thousand subscribers."""

    code: str
    share: int
    first: tuple[str, ...]
    last: tuple[str, ...]
    streets: tuple[str, ...]
    seconds: tuple[str, ...]
    towns: tuple[Town, ...]


def words(text: str) -> tuple[str, ...]:
    """Split at commas."""
    return tuple(text.split(", "))


COUNTRIES = (
    Country(
        code="IE",
        share=372,
        first=words(
            "Aoife, Ciarán, Niamh, Eoin, Gráinne, Sinéad, Pádraig, Róisín, Orla, Declan, Máire, Fionn, Nuala"
        ),
        last=words(
            "O'Sullivan, Byrne, Fitzgerald-Nolan, McCarthy, Ó Briain, Kavanagh, Doyle, Walsh-Keane, O'Dwyer, Quinn"
        ),
        streets=words(
            "{n} Hawthorn Rise, {n} Chapel Lane, {n} The Sycamores, {n} Quarry Road, {n} Main Street"
        ),
        seconds=words("Flat 2, Apartment 14B, The Gate Lodge, Upper Floor"),
        towns=(
            Town(name="Ballymorrin", region="Co. Carrigmore", postcode="Q4# @#@#"),
            Town(name="Kilcarraweel", region="Co. Carrigmore", postcode="Q4# @@##"),
            Town(name="Drumnavale", region="Co. Inishlee", postcode="J6# @#@#"),
            Town(name="Inishcorra", region="Co. Inishlee", postcode="J6# @@##"),
        ),
    ),
    Country(
        code="GB",
        share=228,
        first=words("Harriet, Oluwaseun, Priya, Rhys, Zoë, Margaret, Callum, Imogen, Tariq, Bronwen, Siân"),
        last=words(
            "Ellis, Smith-Okafor, Llewellyn, D'Souza, St John, Patel, Wright, MacDonald, Featherstone-Hughes"
        ),
        streets=words(
            "{n} Orchard Close, {n} Mill Lane, {n} St Brannoc's Terrace, {n}a High Street, {n} The Paddock"
        ),
        seconds=words("Flat 3, Rose Cottage, Basement, Plot 9"),
        towns=(
            Town(name="Nether Wickleby", postcode="XQ# #@@"),
            Town(name="Pennywhistle Cross", postcode="XQ## #@@"),
            Town(name="Thornamble-on-Sea", postcode="ZV# #@@"),
            Town(name="Llanferwyn", postcode="ZW## #@@"),
        ),
    ),
    Country(
        code="DE",
        share=121,
        first=words("Jürgen, Käthe, Björn, Annegret, Lukas, Änne, Fatma, Sören, Hannelore, Anna-Lena"),
        last=words("Müller, Groß, Schäfer, Yılmaz, Meyer-Lüdemann, Köhler, Weiß, von der Heide, Krüger"),
        streets=words(
            "Lindenweg {n}, Am Alten Güterbahnhof {n}, Hauptstraße {n}, Schöne Aussicht {n}, Mühlgasse {n}b"
        ),
        seconds=words("Hinterhaus, 3. OG rechts, Wohnung 12"),
        towns=(
            Town(name="Oberquellnitz", postcode="09###"),
            Town(name="Lindenkuhl", postcode="27###"),
            Town(name="Bad Fichtenbronn", postcode="78###"),
        ),
    ),
    Country(
        code="FR",
        share=96,
        first=words("Élodie, François, Chloé, Jean-Baptiste, Maëlle, Noël, Anaïs, Gaëtan, Inès, Zélie"),
        last=words("Lefèvre, Garçon, D'Hautefort, Benoît, Le Goff, Müntz, Martin-Açores, Nguyên, Dubois"),
        streets=words(
            "{n} bis rue des Tisserands, {n} allée de l'Étang, {n} place de l'Église, {n} chemin du Vieux-Moulin"
        ),
        seconds=words("Bâtiment C, 2e étage gauche, Résidence Les Glycines"),
        towns=(
            Town(name="Saint-Aubépin-sur-Lisse", postcode="49###"),
            Town(name="Vaulmerle", postcode="21###"),
            Town(name="Roquetilleul-lès-Fontaines", postcode="84###"),
        ),
    ),
    Country(
        code="US",
        share=79,
        first=words("María José, Tyler, Aiyana, Mary Ellen, DeShawn, Linh, Samantha, Noah, Ruth"),
        last=words("O'Neal, Nguyễn, Garza-Whitfield, Johnson, Peña, Kowalski, Smith Jr., McAllister"),
        streets=words(
            "{n}14 Juniper St, {n}02 W Larkspur Ave, {n}7 County Road 12, {n}20 Old Ferry Rd NE, PO Box {n}8"
        ),
        seconds=words("Apt 3, Unit 210, Ste B"),
        towns=(
            Town(name="Larch Falls", region="OR", postcode="97###"),
            Town(name="Cedar Notch", region="ME", postcode="04###"),  # the zero in front is part of it
            Town(name="Prairie Bell", region="IA", postcode="50###-####"),
        ),
    ),
    Country(
        code="PL",
        share=40,
        first=words("Łucja, Grażyna, Żaneta, Małgorzata, Wiesława, Agnieszka, Bożena"),
        last=words("Wójcik, Gołąb, Zając, Kaczmarek, Nowak-Dąb, Wróbel, Źrebiec"),
        streets=words("ul. Jaśminowa {n}, ul. Świętej Łucji {n}/4, os. Źródlane {n}, al. Dębów {n}"),
        seconds=words("m. 7, klatka B, II piętro"),
        towns=(
            Town(name="Świerkołęka Dolna", postcode="58-###"),
            Town(name="Dębozdroje", postcode="16-###"),
        ),
    ),
    Country(
        code="GR",
        share=31,
        first=words("Ελένη, Γιώργος, Κατερίνα, Δημήτρης, Σοφία, Αλέξανδρος, Χρύσα"),
        last=words("Νικολάου, Γεωργίου, Ιωάννου, Αντωνίου, Παπαθανασίου, Ξενάκη-Στεφάνου"),
        streets=words("Οδός Ανεμώνης {n}, Λεωφ. Ελαιώνων {n}, Πλατεία Μύλου {n}, Οδός Αγίας Δάφνης {n}"),
        seconds=words("2ος όροφος, Διαμέρισμα 5"),
        towns=(
            Town(name="Μελισσόβρυση", postcode="19# ##"),
            Town(name="Καλοπηγάδι", postcode="73# ##"),
        ),
    ),
    Country(
        code="BG",
        share=26,
        first=words("Мария, Елена, Цветелина, Йорданка, Ралица, Щилияна"),
        last=words("Петрова, Иванова, Димитрова-Колева, Георгиева, Тодорова"),
        streets=words("ул. „Липа“ {n}, бул. „Ябълкова градина“ {n}, ж.к. „Изгрев“ бл. {n}, ул. „Жътва“ {n}"),
        seconds=words("вх. Б, вх. А ет. 4 ап. 11"),
        towns=(
            Town(name="Белодолец", postcode="5###"),
            Town(name="Синеречие", postcode="8###"),
        ),
    ),
    Country(
        code="AE",
        share=7,
        first=words("Fatima, Omar, Meera, Yusuf, Layla"),
        last=words("Al-Sayed, Rahman, Menon, Haddad, Al-Khatib"),
        streets=("Villa {n}, Street 7", "PO Box {n}411", "Tower B, Flat {n}03"),
        seconds=words("Behind the old date market, Al Waha Gardens"),
        towns=(Town(name="Marsa Al Noor"), Town(name="Wadi Rummana")),
    ),
)
