using LiveStems.Albums;
using LiveStems.Albums.Editing;
using LiveStems.Albums.Model;
using LiveStems.Albums.Storage;
using LiveStems.Engine.Comparing;
using LiveStems.Engine.Live;

namespace LiveStems.App.Playing;

/// <summary>
/// A blind test in the terminal. While it runs the fair gain is on and stands still, nothing can be changed, and nothing
/// shown depends on what is heard.
/// </summary>
internal sealed class BlindControls(LivePlayer player, PlayControls controls, int rounds, string albumFolder)
{
    private BlindTest? test;
    private string heard = string.Empty;

    /// <summary>True while a test runs.</summary>
    public bool IsRunning => test is not null;

    /// <summary>Starts a test of what is compared, or breaks it off.</summary>
    public void Toggle()
    {
        if (test is not null)
        {
            Say("blind test broken off; nothing was kept");
            End();
        }
        else if (player.Comparing.Chosen is null || !player.Comparing.IsReady)
        {
            Say("choose what to compare first: v");
        }
        else if (!player.Comparing.Fair.IsMeasured)
        {
            Say("let it play for a few seconds first, so that both sides are equally loud");
        }
        else
        {
            player.Comparing.IsFair = true;
            player.Comparing.IsFairLocked = true;
            test = new BlindTest(rounds);
            Say($"blind test, {rounds} rounds: 1 and 2 hear the two sides; 3 when the first is 'out', 4 when the second is, 5 for the same; r breaks off");
            NextRound();
        }
    }

    /// <summary>Takes a key of a running test: 1 and 2 hear, 3 to 5 answer; false for any other.</summary>
    public bool Press(ConsoleKeyInfo key)
    {
        switch (key.KeyChar)
        {
            case '1' or '2':
                Hear(isFirst: key.KeyChar == '1');
                return true;
            case '3':
                Answer(BlindAnswer.First);
                return true;
            case '4':
                Answer(BlindAnswer.Second);
                return true;
            case '5':
                Answer(BlindAnswer.Same);
                return true;
            default:
                return false;
        }
    }

    /// <summary>Where the test stands, for the status line.</summary>
    public LinePart Status() => new(
        $"blind round {test!.Answered + 1} of {test.Rounds}: {heard}",
        LinePart.To(Turn.Listening, $"blind {test.Answered + 1}/{test.Rounds}: {heard}"));

    private void Hear(bool isFirst)
    {
        heard = isFirst ? "first" : "second";
        player.Comparing.Hear(test!.SideOf(isFirst));
    }

    private void Answer(BlindAnswer answer)
    {
        test!.Answer(answer);
        if (test.Result is { } result)
        {
            Finish(result);
        }
        else
        {
            NextRound();
        }
    }

    private void NextRound()
    {
        heard = "1 or 2?";
        player.Comparing.Hear(CompareSide.Silence);
    }

    private void Finish(BlindResult result)
    {
        string text = $"Blind test {DateTime.Now:yyyy-MM-dd HH:mm}, {player.Comparing.Chosen?.Words}: {result.Words}; {controls.Compare.FairWords()}";
        Say(text);
        Keep(text);
        End();
    }

    private void Keep(string text)
    {
        try
        {
            AlbumSession.Change(
                albumFolder,
                Processors.Catalogue,
                album => AlbumEdits.AddNote(album, $"{AlbumAddress.SongIndex(album, controls.Song.Title) + 1}", new Note(null, text), Processors.Catalogue),
                "keep a blind test");
            Say("kept in the song's notes");
        }
        catch (Exception exception) when (exception is AlbumException or IOException or UnauthorizedAccessException)
        {
            Say($"not kept: {exception.Message}");
        }
    }

    private void End()
    {
        test = null;
        player.Comparing.IsFairLocked = false;
        player.Comparing.Hear(CompareSide.Out);
    }

    private void Say(string text) => controls.Tell(text);
}
