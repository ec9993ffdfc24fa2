using LiveStems.Albums.Model;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>The songs in the order of the album: loudness, state, how they begin, end and join.</summary>
internal sealed class AlbumPage(AlbumDesk desk) : DrawerPage(desk)
{
    public override string Id => "album";

    public override string Name => "album";

    public override string Key => "F2";

    public override string Purpose => "The songs in order, and how they join";

    public override string Explanation => Desk.Songs.Layout() switch
    {
        { Fault: { } fault } => fault,
        { Places: { Count: > 0 } places } => $"{TimeText.Of(places[^1].End)} from the first sound to the last. Enter shows a song, Alt with the arrows moves it, Delete takes it out; below, how it begins and ends.",
        _ => "Measured, the songs stand here with their loudness and their places on the album. Enter shows a song, Alt with the arrows moves it, Delete takes it out.",
    };

    public override string? JobKind => SongsModel.JobKind;

    public override IReadOnlyList<DrawerButton> Buttons =>
    [
        new(() => "measure the songs", () => Done(() => Desk.Songs.Measure()), "Renders what has changed and measures every master: loudness, range, peaks, and how the songs stand beside each other."),
        new(() => $"state: {AlbumWords.State[ChosenSong.State]}", NextState, "Where the song stands with the client: open, sent, approved, superseded."),
        new(() => "earlier", () => Desk.Songs.Move(Desk.Songs.Chosen, Desk.Songs.Chosen - 1), "Moves the song one place towards the start of the album."),
        new(() => "later", () => Desk.Songs.Move(Desk.Songs.Chosen, Desk.Songs.Chosen + 1), "Moves the song one place towards the end of the album."),
    ];

    public override IReadOnlyList<ValueField> Values => Desk.Songs.Edges;

    public override string ValuesName => $"{Desk.Songs.Chosen + 1} {ChosenSong.Title}: how it begins, ends and joins the next";

    public override object State => (Desk.Revision, Desk.Songs.Revision);

    private Song ChosenSong => Desk.Album.Songs[Desk.Songs.Chosen];

    public override void Opened() => Desk.Songs.Chosen = Desk.SongIndex;

    public override IReadOnlyList<DrawerLine> Lines()
    {
        IReadOnlyList<(double Start, double End)> places = Desk.Songs.Layout().Places;
        return [.. Enumerable.Range(0, Desk.Album.Songs.Length).Select(song => LineOf(song, song < places.Count ? places[song].Start : null))];
    }

    protected override void OnChosen(int line) => Desk.Songs.Chosen = line;

    private DrawerLine LineOf(int index, double? start)
    {
        Song song = Desk.Album.Songs[index];
        SongMeasure? measure = Desk.Songs.Of(index);
        bool isOld = Desk.Songs.IsOld(index);
        DeliveryTargets targets = song.Targets ?? Desk.Album.Targets;
        List<string> told = [AlbumWords.State[song.State]];
        if (measure is { } known)
        {
            told.Insert(0, $"{(start is { } at ? $"at {TimeText.Of(at)}, " : string.Empty)}{TimeText.Of(known.Seconds)} long");
            told.Add($"range {known.Loudness.LoudnessRangeLu:0.0} LU");
            told.Add(FrequencyText.OfDb(known.Loudness.TruePeakDbtp, "dBTP"));
            told.Add($"peak to loudness {FrequencyText.OfDb(known.Loudness.PeakToLoudnessLu ?? double.NaN, "LU")}");
        }

        told.Add(Desk.Songs.EdgesInWords(index));
        string detail = string.Join(" · ", told) + (isOld ? " · changed since it was measured" : string.Empty);
        IReadOnlyList<string> advice = Desk.Songs.Advice(index);
        return new DrawerLine(
            $"{index + 1}  {song.Title}",
            measure is null ? "not measured" : FrequencyText.OfDb(measure.Loudness.IntegratedLufs, "LUFS"),
            advice.Count == 0 ? detail : $"{detail} · {string.Join(" · ", advice)}")
        {
            Tone = measure is null || isOld ? Tone.Text : IsAtTarget(measure, targets) ? Tone.Good : Tone.Text,
            About = song.Title,
            IsOn = index == Desk.SongIndex ? true : null,
            Act = () => Done(() => Desk.ShowSong(index)),
            Move = step => Desk.Songs.Move(index, index + step),
            Remove = () => Desk.Songs.Remove(index),
        };
    }

    private static bool IsAtTarget(SongMeasure measure, DeliveryTargets targets) =>
        targets.IntegratedLufs is { } wanted && Math.Abs(measure.Loudness.IntegratedLufs - wanted) <= 0.5 && measure.Loudness.TruePeakDbtp <= targets.CeilingDbtp + 0.05;

    private string? NextState() => Desk.Songs.SetState(Desk.Songs.Chosen, (SongState)(((int)ChosenSong.State + 1) % Enum.GetValues<SongState>().Length));
}
