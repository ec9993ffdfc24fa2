using LiveStems.Albums.Model;
using LiveStems.Engine.Comparing;
using LiveStems.Files;

namespace LiveStems.Engine.Live;

/// <content>The song that begins at the end of the present one.</content>
public sealed partial class LivePlayer
{
    // So long before the end of a song the next one is opened.
    private const double AheadSeconds = 15;

    private LoadedSong? following;
    private (Song Song, string Folder)? wantedFollowing;
    private Task<PreparedSong>? openingFollowing;
    private Exception? followingFault;
    private bool hasFollowed;

    /// <summary>Times that a song has begun at the end of another.</summary>
    public int FollowedSongs { get; private set; }

    /// <summary>
    /// The song to begin at the end of the present one: its first frame follows the last one of the longest stem, and what
    /// rings on is heard under it. Null for none. It is opened shortly before it is needed.
    /// </summary>
    public void Follow(Song? song, string albumFolder)
    {
        (Song, string)? now = song is null ? null : (song, albumFolder);
        if (now == wantedFollowing)
        {
            return;
        }

        wantedFollowing = now;
        ForgetOpening();
        DropFollowing();
    }

    private void PrepareFollowing()
    {
        if (wantedFollowing is not { } next || following is not null || arriving is not null || wanted is not null || preparation is not null || playing is not { ShouldPlay: true }
            || playing.FramesLeft > (AheadSeconds + LeadSeconds(playing.Request.Song, next.Song)) * SampleRate)
        {
            return;
        }

        try
        {
            if (Opened(SongRequest.For(next.Song, next.Folder, null)) is not { } prepared)
            {
                return;
            }

            NoteHung(prepared.Plan);
            following = prepared.Load(null);
        }
        catch (AudioFileException fault)
        {
            followingFault = fault;
            wantedFollowing = null;
            return;
        }

        following.Plan.Sources.Head.OpenAtStart();
        BeginWatch(following.Plan);
        renderer.Songs.Follow(Ready(following, null, playing.Request.Song.Edges));
    }

    // Aside nobody waits for it: null until it is open.
    private PreparedSong? Opened(SongRequest request)
    {
        if (!isAside)
        {
            return OpenAll(request, null, 0, null);
        }

        openingFollowing ??= Task.Factory.StartNew(
            () => OpenAll(request, null, 0, null), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
        if (!openingFollowing.IsCompleted)
        {
            return null;
        }

        Task<PreparedSong> done = openingFollowing;
        openingFollowing = null;
        return done.GetAwaiter().GetResult();
    }

    // What is being opened is another song, or one with other processors, than is wanted now.
    private void ForgetOpening()
    {
        _ = openingFollowing?.ContinueWith(CloseOpened, CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        openingFollowing = null;
    }

    private static void CloseOpened(Task<PreparedSong> opened)
    {
        if (opened.IsCompletedSuccessfully)
        {
            opened.Result.Close();
        }
    }

    private double LeadSeconds(Song present, Song next) => IsAsOnAlbum ? present.Edges.TrimEndSeconds + present.Edges.CrossFadeSeconds + next.Edges.TrimStartSeconds : 0;

    // The song that waited has begun: it is the one that arrives, and changes to the old one have lost their object. A
    // comparison goes on in it as soon as both its sides are there.
    private void NoticeFollowing()
    {
        FinishArrival();
        if (following is null || renderer.Songs.IsWaiting)
        {
            return;
        }

        if (wanted is { } late && playing is not null && playing.Request.IsSameSong(late))
        {
            wanted = null;
        }

        arriving = following;
        hasFollowed = true;
        following = null;
        wantedFollowing = null;
        loop = null;
        FollowedSongs++;
        Comparing.Leave();
        if (Comparing.Chosen is not null && wanted is null)
        {
            wanted = RequestFor(arriving.Request.Song, arriving.Request.Folder);
        }
    }

    // False when the song that waited has begun meanwhile.
    private bool DropFollowing()
    {
        if (following is null)
        {
            return true;
        }

        if (renderer.Songs.Withdraw() is null)
        {
            NoticeFollowing();
            return false;
        }

        following.Close();
        following.Plan.Release();
        following = null;
        return true;
    }

    // The request with the comparison that was chosen, or without it where the song has nothing to compare.
    private SongRequest RequestFor(Song song, string folder)
    {
        try
        {
            return SongRequest.For(song, folder, Comparing.Chosen);
        }
        catch (ComparisonException exception)
        {
            dropped = $"the comparison has ended: {exception.Message}";
            Comparing.Drop();
            return SongRequest.For(song, folder, null);
        }
    }
}
