using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Engine.Live;

namespace LiveStems.View.Desk;

/// <summary>Playing, stopping, places and loops.</summary>
public sealed class TransportModel
{
    /// <summary>The shortest loop in seconds.</summary>
    public const double ShortestLoop = 0.05;

    private const double NearSeconds = 2;

    private readonly AlbumDesk desk;
    private PlayerState? state;
    private double? loopIn;
    private double? loopOut;

    // A jump takes a moment: until the place has been inside the song, its end is not the end of playing.
    private bool hasBeenInside;

    internal TransportModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>True while the song plays or is about to.</summary>
    public bool IsPlaying => state?.IsPlaying ?? false;

    /// <summary>What is heard now, in seconds from the start of the song.</summary>
    public double PositionSeconds => state?.PositionSeconds ?? 0;

    /// <summary>Length of the song in seconds.</summary>
    public double LengthSeconds => state?.LengthSeconds ?? 0;

    /// <summary>The loop in seconds, or null.</summary>
    public (double Start, double End)? Loop => loopIn is { } start && loopOut is { } end ? (start, end) : null;

    /// <summary>Places of the song with a name: its markers, and the notes that have a time, of the song and of the chosen stem.</summary>
    public IEnumerable<(double Seconds, string Name)> Markers =>
        desk.Song.Markers.Select(marker => (marker.AtSeconds, marker.Name))
            .Concat(Timed(desk.Song.Notes, string.Empty))
            .Concat(desk.SelectedStem is { } stem ? Timed(desk.Notes.OfStem(stem.Index), $"{stem.Name}: ") : [])
            .OrderBy(marker => marker.Item1);

    /// <summary>Frames of stems that did not come from the disk in time, since the song was opened.</summary>
    public long MissedFrames => state?.MissedFrames ?? 0;

    /// <summary>What the player showed last; null before the first time.</summary>
    internal PlayerState? State => state;

    /// <summary>Plays, or stops where it is.</summary>
    public void Toggle()
    {
        if (IsPlaying)
        {
            Stop();
        }
        else
        {
            Play();
        }
    }

    /// <summary>Plays from where it stands; from the start, or that of the loop, when it stands at the end.</summary>
    public void Play()
    {
        if (LengthSeconds > 0 && PositionSeconds >= LengthSeconds - 0.01)
        {
            Seek(Loop?.Start ?? desk.StartSeconds);
        }

        desk.Player.Play();
        Look();
    }

    /// <summary>Stops; the place stays.</summary>
    public void Stop()
    {
        desk.Player.Stop();
        Look();
    }

    /// <summary>Goes to a place in seconds; in a song that is still being opened, once it is there.</summary>
    public void Seek(double seconds)
    {
        hasBeenInside = false;
        Look();

        // Of a song that is on its way only the player will know the end.
        double end = desk.Player.IsOpening || LengthSeconds <= 0 ? double.PositiveInfinity : LengthSeconds;
        desk.Player.JumpTo(Math.Clamp(seconds, 0, end), Loop);
    }

    /// <summary>Goes on or back by so many seconds.</summary>
    public void Skip(double seconds) => Seek(PositionSeconds + seconds);

    /// <summary>Goes to the next named place (1) or the one before (−1); to the ends where there is none.</summary>
    public void SeekMarker(int direction)
    {
        const double Here = 0.3;
        IEnumerable<double> places = Markers.Select(marker => marker.Seconds).Prepend(0).Append(LengthSeconds);
        double target = direction > 0
            ? places.Where(place => place > PositionSeconds + 0.01).DefaultIfEmpty(LengthSeconds).Min()
            : places.Where(place => place < PositionSeconds - Here).DefaultIfEmpty(0).Max();
        Seek(target);
    }

    /// <summary>Loops a stretch, in seconds, in either order; plays on inside it.</summary>
    public void SetLoop(double from, double to)
    {
        double start = Math.Clamp(Math.Min(from, to), 0, Math.Max(0, LengthSeconds - ShortestLoop));
        double end = Math.Clamp(Math.Max(from, to), start + ShortestLoop, Math.Max(LengthSeconds, start + ShortestLoop));
        (loopIn, loopOut) = (start, end);
        hasBeenInside = false;
        desk.Player.SetLoop(Loop);
    }

    /// <summary>The loop starts here.</summary>
    public void LoopFromHere()
    {
        loopIn = PositionSeconds;
        if (loopOut is { } end && end > loopIn)
        {
            SetLoop(PositionSeconds, end);
        }
        else
        {
            loopOut = null;
        }
    }

    /// <summary>The loop ends here; it starts at the start of the song when no start was set.</summary>
    public void LoopToHere() => SetLoop(loopIn is { } start && start < PositionSeconds ? start : 0, PositionSeconds);

    /// <summary>Plays on without a loop.</summary>
    public void ClearLoop()
    {
        (loopIn, loopOut) = (null, null);
        desk.Player.SetLoop(null);
    }

    /// <summary>Marks the place that is heard now, exactly; without a name the marker gets a free number. Null, or what is wrong.</summary>
    public string? AddMarker(string name = "") => desk.Edit(
        album => AlbumEdits.AddMarker(album, $"{desk.SongIndex + 1}", name, PositionSeconds, desk.Catalogue));

    /// <summary>Gives a marker of the song another name or place, in seconds. Null, or what is wrong.</summary>
    public string? ChangeMarker(int marker, string name, double seconds) => desk.EditSong(
        song => song with { Markers = song.Markers.SetItem(marker, song.Markers[marker] with { Name = name.Trim(), AtSeconds = seconds }) });

    /// <summary>Takes a marker of the song away. Null, or what is wrong.</summary>
    public string? RemoveMarker(int marker) => desk.EditSong(song => song with { Markers = song.Markers.RemoveAt(marker) });

    /// <summary>Takes the marker away that is nearest to what is heard now. Null, or why there is none.</summary>
    public string? RemoveMarkerHere()
    {
        int nearest = Enumerable.Range(0, desk.Song.Markers.Length).DefaultIfEmpty(-1).MinBy(marker => DistanceTo(marker));
        return DistanceTo(nearest) <= NearSeconds ? RemoveMarker(nearest) : desk.Refuse($"there is no marker within {NearSeconds:0} s of here");

        double DistanceTo(int marker) => marker < 0 ? double.PositiveInfinity : Math.Abs(desk.Song.Markers[marker].AtSeconds - PositionSeconds);
    }

    internal void OnSongChanged() => (loopIn, loopOut, hasBeenInside) = (null, null, false);

    internal void Update()
    {
        Look();
        bool isAtEnd = LengthSeconds > 0 && PositionSeconds >= LengthSeconds;
        bool hasNext = state?.HasFollowing == true;
        if (IsPlaying && Loop is null && isAtEnd && hasBeenInside && !hasNext)
        {
            Stop();
        }

        hasBeenInside = LengthSeconds > 0 && (!isAtEnd || (hasNext && hasBeenInside));
    }

    private static IEnumerable<(double Seconds, string Name)> Timed(IEnumerable<Note> notes, string of) =>
        notes.Where(note => note.AtSeconds is not null).Select(note => (note.AtSeconds!.Value, of + note.Text));

    private void Look() => state = desk.Player.Look();
}
