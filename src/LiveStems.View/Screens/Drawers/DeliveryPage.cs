using System.Globalization;
using LiveStems.Analysis.Delivery;
using LiveStems.Processing.Contract;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What is delivered, and the delivery itself with its progress.</summary>
internal sealed class DeliveryPage(AlbumDesk desk) : DrawerPage(desk)
{
    private readonly HashSet<string> formats = ["archive"];
    private readonly HashSet<string> alternates = [];
    private readonly List<string> leftOut = [];
    private IReadOnlyList<ValueField>? values;
    private double vocalUpDb = 1.5;
    private double vocalDownDb = 1.5;
    private NamePattern names = NamePattern.Usual;
    private string originator = "LiveStems";
    private DateOnly? date;
    private Asked asked;
    private bool isWholeAlbum = true;
    private bool isLinked = true;
    private bool hasStems;
    private bool hasContinuous;
    private string? folder;
    private int changes;

    private const string Up = "vocal-up";
    private const string Down = "vocal-down";
    private const string Without = "without=";
    private const int LongestOriginator = 32;

    private enum Asked
    {
        Folder,
        Names,
        Originator,
        Date,
        LeftOut,
    }

    private IEnumerable<string> Alternates => [.. (string[])["instrumental", "a-cappella", "television", Up, Down], .. leftOut.Select(stem => Without + stem)];

    public override string Id => "delivery";

    public override string Name => "delivery";

    public override string Key => "8";

    public override string Purpose => "Delivery of masters, alternates and stems";

    public override string Explanation => $"Into a numbered folder in {Folder}. Every file is read back and measured before it counts; called off, it goes on later where it was.";

    public override string? JobKind => "delivery";

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => "deliver", Deliver, "Renders everything that is switched on below."),
        new(() => isWholeAlbum ? "the whole album" : "this song", () => Change(() => isWholeAlbum = !isWholeAlbum), "What is delivered."),
    ];

    public override DrawerEntry Entry => new(
        () => asked switch
        {
            Asked.Names => $"words and {string.Join(" ", NamePattern.FieldNames)}",
            Asked.Originator => $"who made the files, up to {LongestOriginator} characters",
            Asked.Date => "date, such as 2026-03-01, or today",
            Asked.LeftOut => "name of the stem to leave out, or how it begins",
            _ => "another folder for deliveries",
        },
        Take);

    public override IReadOnlyList<ValueField> Values => values ??=
    [
        Shift("vocalUpDb", "Vocal up by", "How much louder the lead voice is in the version that has it up.", () => vocalUpDb, value => vocalUpDb = value),
        Shift("vocalDownDb", "Vocal down by", "How much softer the lead voice is in the version that has it down.", () => vocalDownDb, value => vocalDownDb = value),
    ];

    public override string ValuesName => "the lead voice in alternates";

    public override object State => (changes, asked, Desk.Work.Delivered);

    public override void Opened() => asked = Asked.Folder;

    private string Folder => folder ?? Path.Combine(Desk.Folder, "Deliveries");

    public override IReadOnlyList<DrawerLine> Lines() =>
    [
        .. Delivered(),
        DrawerLine.Heading("masters as"),
        .. DeliveryFormat.All.Select(format => Toggle(format.Purpose, formats, format.Id)),
        DrawerLine.Heading("alternates"),
        .. Alternates.Select(each => Toggle(Alternate.Parse(OrderOf(each)).Name, alternates, each) with { Remove = each.StartsWith(Without, StringComparison.Ordinal) ? () => TakeBack(each) : null }),
        new("another one: without a stem") { Tone = Tone.Quiet, Act = () => Ask(Asked.LeftOut, string.Empty) },
        new("same gain as the master, moment by moment", Detail: "so that versions can be cut together") { IsOn = isLinked, Act = () => Change(() => isLinked = !isLinked) },
        DrawerLine.Heading("beside them"),
        new("the album as one file, with a cue sheet", Detail: "with its gaps, cuts, fades and cross-fades") { IsOn = hasContinuous, Act = () => Change(() => hasContinuous = !hasContinuous) },
        new("treated stems, whose sum is the song bus input") { IsOn = hasStems, Act = () => Change(() => hasStems = !hasStems) },
        DrawerLine.Heading("called, and told in the files"),
        new(names.ToString(), "names") { Act = () => Ask(Asked.Names, names.ToString()) },
        new(originator, "originator") { Act = () => Ask(Asked.Originator, originator) },
        new(DateText, "date") { Act = () => Ask(Asked.Date, date is null ? string.Empty : DateText), Remove = () => Change(() => date = null) },
        new(Folder, "folder") { Act = () => Ask(Asked.Folder, Folder), Remove = () => Change(() => folder = null) },
    ];

    private string DateText => date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "today";

    private IEnumerable<DrawerLine> Delivered() => Desk.Work.Delivered is not { } report ? [] :
    [
        DrawerLine.Heading($"delivery {report.Number} is done", $"{report.Files.Count} files"),
        .. report.Files.Select(file => new DrawerLine(
            file.Name,
            FrequencyText.OfDb(file.Loudness.IntegratedLufs, "LUFS"),
            string.Join("; ", file.Notes.Prepend($"{FrequencyText.OfDb(file.PreciseTruePeakDbtp, "dBTP", 2)}, range {file.Loudness.LoudnessRangeLu:0.0} LU"))) { Tone = file.Notes.Count > 0 ? Tone.Trouble : Tone.Good }),
    ];

    private DrawerLine Toggle(string words, HashSet<string> set, string id) => new(words)
    {
        IsOn = set.Contains(id),
        Act = () => Change(() => _ = set.Remove(id) || set.Add(id)),
    };

    // As the command takes it.
    private string OrderOf(string alternate) => alternate switch
    {
        Up => string.Create(CultureInfo.InvariantCulture, $"{Up}={vocalUpDb}"),
        Down => string.Create(CultureInfo.InvariantCulture, $"{Down}={vocalDownDb}"),
        _ => alternate,
    };

    private ValueField Shift(string id, string name, string description, Func<double> read, Action<double> write) => new(
        $"delivery:{id}", new ParameterSpec(id, name, ParameterUnit.Decibels, 0.1, 12, 1.5, Taper.Linear, description), read, (value, _) => Change(() => write(value)));

    private string? Ask(Asked question, string present)
    {
        asked = question;
        PutWords(present);
        return null;
    }

    private string? Take(string text)
    {
        string? fault = asked switch
        {
            Asked.Names => TakeNames(text),
            Asked.Originator => TakeOriginator(text.Trim()),
            Asked.Date => TakeDate(text.Trim()),
            Asked.LeftOut => LeaveOut(text.Trim()),
            _ => Change(() => folder = PathOf(text, Desk.Folder)),
        };
        asked = fault is null ? Asked.Folder : asked;
        return fault;
    }

    private string? TakeNames(string text)
    {
        try
        {
            NamePattern pattern = NamePattern.Parse(text.Trim());
            return Change(() => names = pattern);
        }
        catch (DeliveryException fault)
        {
            return fault.Message;
        }
    }

    private string? TakeOriginator(string text) => text.Length > LongestOriginator
        ? $"the files take {LongestOriginator} characters of who made them, not {text.Length}"
        : Change(() => originator = text);

    private string? TakeDate(string text) =>
        text.Equals("today", StringComparison.OrdinalIgnoreCase) ? Change(() => date = null)
        : DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? Change(() => date = day)
        : $"a date is written as 2026-03-01, not '{text}'";

    private string? LeaveOut(string stem)
    {
        if (!Desk.Album.Songs.Any(song => song.Stems.Any(each => each.Name.StartsWith(stem, StringComparison.OrdinalIgnoreCase))))
        {
            return $"no stem of the album is called or begins with '{stem}'";
        }

        return Change(() =>
        {
            if (alternates.Add(Without + stem))
            {
                leftOut.Add(stem);
            }
        });
    }

    private string? TakeBack(string alternate) => Change(() =>
    {
        leftOut.Remove(alternate[Without.Length..]);
        alternates.Remove(alternate);
    });

    private string? Change(Action change)
    {
        change();
        changes++;
        return null;
    }

    private string? Deliver()
    {
        if (formats.Count == 0)
        {
            return "switch on at least one form of masters";
        }

        int[] songs = isWholeAlbum ? [.. Enumerable.Range(0, Desk.Album.Songs.Length)] : [Desk.SongIndex];
        Desk.Work.Deliver(Folder, new DeliveryOrder(
            songs,
            [.. DeliveryFormat.All.Where(format => formats.Contains(format.Id))],
            [.. Alternates.Where(alternates.Contains).Select(OrderOf).Select(Alternate.Parse)],
            isLinked,
            hasStems,
            date ?? DateOnly.FromDateTime(DateTime.Today),
            originator) { HasContinuous = hasContinuous, IsDateAsked = date is not null, Names = names });
        return null;
    }
}
