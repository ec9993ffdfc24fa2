using LiveStems.Analysis.Delivery;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What is delivered, and the delivery itself with its progress.</summary>
internal sealed class DeliveryPage(AlbumDesk desk) : DrawerPage(desk)
{
    private readonly HashSet<string> formats = ["archive"];
    private readonly HashSet<string> alternates = [];
    private bool isWholeAlbum = true;
    private bool isLinked = true;
    private bool hasStems;
    private bool hasContinuous;
    private string? folder;
    private int changes;

    private static readonly string[] Alternates = ["instrumental", "a-cappella", "television", "vocal-up=1.5", "vocal-down=1.5"];

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

    public override DrawerEntry Entry => new(() => "another folder for deliveries", text => Change(() => folder = text.Trim().Length == 0 ? null : PathOf(text, Desk.Folder)));

    public override object State => (changes, Desk.Work.Delivered);

    private string Folder => folder ?? Path.Combine(Desk.Folder, "Deliveries");

    public override IReadOnlyList<DrawerLine> Lines() =>
    [
        .. Delivered(),
        DrawerLine.Heading("masters as"),
        .. DeliveryFormat.All.Select(format => Toggle(format.Purpose, formats, format.Id)),
        DrawerLine.Heading("alternates"),
        .. Alternates.Select(each => Toggle(Alternate.Parse(each).Name, alternates, each)),
        new("same gain as the master, moment by moment", Detail: "so that versions can be cut together") { IsOn = isLinked, Act = () => Change(() => isLinked = !isLinked) },
        DrawerLine.Heading("beside them"),
        new("the album as one file, with a cue sheet", Detail: "with its gaps, cuts, fades and cross-fades") { IsOn = hasContinuous, Act = () => Change(() => hasContinuous = !hasContinuous) },
        new("treated stems, whose sum is the song bus input") { IsOn = hasStems, Act = () => Change(() => hasStems = !hasStems) },
    ];

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
            [.. Alternates.Where(alternates.Contains).Select(Alternate.Parse)],
            isLinked,
            hasStems,
            DateOnly.FromDateTime(DateTime.Today),
            "LiveStems") { HasContinuous = hasContinuous });
        return null;
    }
}
