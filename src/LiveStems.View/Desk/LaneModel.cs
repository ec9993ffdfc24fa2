using System.Diagnostics;
using LiveStems.Albums.Model;
using LiveStems.Analysis.Caching;
using LiveStems.Dsp;
using LiveStems.Engine.Live;
using LiveStems.Engine.Offline;

namespace LiveStems.View.Desk;

/// <summary>
/// The lanes of the song that the desk shows: from the cache at once, computed in the background where that is missing,
/// and, while the song has been changed since, overwritten by what plays.
/// </summary>
public sealed class LaneModel
{
    /// <summary>The kind of the job that computes lanes.</summary>
    public const string JobKind = "lanes";

    // Nobody wants the song computed for every step of a drag.
    private const double QuietSeconds = 1.5;

    private readonly AlbumDesk desk;
    private readonly Stopwatch sinceChange = Stopwatch.StartNew();
    private Song? shown;
    private Song? computed;
    private string? computing;
    private bool isWaiting;
    private int column = -1;

    internal LaneModel(AlbumDesk desk) => this.desk = desk;

    /// <summary>The lanes, as far as they are known. Another object when they were computed anew; while the song plays, values change in place.</summary>
    public LaneSet Lanes { get; private set; } = LaneSet.None;

    /// <summary>Counts up whenever any value is another: for textures.</summary>
    public long Revision { get; private set; }

    /// <summary>The columns that have changed in place since the last call, or null.</summary>
    public (int First, int Last)? TakeChanged()
    {
        (int, int)? taken = changed;
        changed = null;
        return taken;
    }

    private (int First, int Last)? changed;

    /// <summary>True while they are being computed; the job of kind "lanes" says how far it is.</summary>
    public bool IsComputing => desk.Jobs.Open(JobKind) is not null;

    /// <summary>True while the song has been changed since the lanes were computed: levels and reductions may be others now.</summary>
    public bool IsStale => isWaiting || IsComputing;

    internal void OnSongChanged()
    {
        Song now = desk.Song;
        if (ReferenceEquals(now, shown))
        {
            return;
        }

        if (shown is not { } before || before.Title != now.Title)
        {
            Put(LaneSet.None);
        }
        else if (LanePlaces.After(Lanes, before, now) is { } moved && !ReferenceEquals(moved, Lanes))
        {
            Put(moved);
        }

        shown = now;
        column = -1;
        isWaiting = true;
        sinceChange.Restart();
    }

    internal void Update()
    {
        // With nothing to show yet there is no waiting, but lanes of this song that are under way are let come.
        bool isQuiet = sinceChange.Elapsed.TotalSeconds > QuietSeconds
            || (Lanes.Lanes.Count == 0 && !(IsComputing && computing == shown?.Title));
        if (isWaiting && isQuiet && shown is { } song)
        {
            isWaiting = false;
            Ask(song);
        }

        // What is heard without its chains is not how the song is.
        if (IsStale && desk.Transport.IsPlaying && Lanes.Columns > 0 && !desk.AreChainsOut)
        {
            Follow();
        }
    }

    private void Ask(Song song)
    {
        string folder = desk.Folder;
        computing = song.Title;
        desk.Jobs.Start(
            JobKind,
            $"looking over {song.Title}",
            (progress, cancellation) =>
            {
                string digest = SettingsDigest.Of(song, folder, desk.Catalogue);
                if (LaneStore.Load(digest) is { } kept)
                {
                    return LaneStore.ToLanes(kept);
                }

                SongOverview overview = OverviewRenderer.Run(song, folder, desk.Catalogue, progress, cancellation);
                LaneStore.Save(digest, overview);
                return LaneStore.ToLanes(overview);
            },
            lanes =>
            {
                // Of a song that has been changed since they are still nearly right, each where it belongs by now.
                if (shown is { } now && now.Title == song.Title)
                {
                    Put(LanePlaces.After(lanes, song, now));
                    computed = song;
                }
            });
    }

    private void Put(LaneSet lanes)
    {
        Lanes = lanes;
        changed = null;
        column = -1;
        Revision++;
    }

    // What plays now is nearer to the truth than what was computed before the change.
    private void Follow()
    {
        int now = (int)(desk.Transport.PositionSeconds / Lanes.ColumnSeconds);
        if (now < 0 || now >= Lanes.Columns || ReferenceEquals(computed, shown))
        {
            return;
        }

        bool isNew = now != column;
        column = now;
        foreach (Lane lane in Lanes.Lanes)
        {
            PathMeter? meter = desk.MeterOf(lane.Place);
            if (meter is not null)
            {
                Put(lane.InputPeakDbfs, now, (float)Decibels.FromAmplitude(meter.LatestInput), isNew);
                Put(lane.OutputPeakDbfs, now, (float)Decibels.FromAmplitude(meter.LatestOutput), isNew);
            }

            foreach ((string slot, float[] reduction) in lane.Reductions)
            {
                float db = (float)desk.Slots.LatestDb(lane.Place with { Slot = slot });
                reduction[now] = isNew ? db : Math.Min(reduction[now], db);
            }
        }

        changed = changed is { } before ? (Math.Min(before.First, now), Math.Max(before.Last, now)) : (now, now);
        Revision++;
    }

    private static void Put(float[] columns, int column, float value, bool isNew) =>
        columns[column] = isNew ? value : Math.Max(columns[column], value);
}
