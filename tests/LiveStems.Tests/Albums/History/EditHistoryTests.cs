using CsCheck;
using LiveStems.Albums.History;
using LiveStems.Albums.Model;
using Xunit;

namespace LiveStems.Tests.Albums.History;

public class EditHistoryTests
{
    private static readonly EditHistory Start = EditHistory.StartingWith(ExampleAlbum.Album);

    [Fact]
    public void AStepIsTakenBackAndDoneAgain()
    {
        EditHistory history = Start.Do(Titled("b"), "title b").Do(Titled("c"), "title c");
        Assert.Equal("title c", history.UndoWords);
        EditHistory back = history.Undo();
        Assert.Equal(("b", "title b", "title c"), (back.Current.Title, back.UndoWords, back.RedoWords));
        EditHistory again = back.Redo();
        Assert.Equal(("c", "title c", null), (again.Current.Title, again.UndoWords, again.RedoWords));
    }

    [Fact]
    public void NothingHappensAtTheEnds()
    {
        Assert.Same(Start, Start.Undo());
        Assert.Same(Start, Start.Redo());
        Assert.Null(Start.UndoWords);
    }

    [Fact]
    public void ANewStepForgetsWhatWasUndone()
    {
        EditHistory history = Start.Do(Titled("b"), "b").Undo().Do(Titled("c"), "c");
        Assert.Null(history.RedoWords);
        Assert.Same(ExampleAlbum.Album, history.Undo().Current);
    }

    [Fact]
    public void AGestureIsTakenBackAsAWhole()
    {
        EditHistory history = Start.Do(Titled("b"), "b").Do(Titled("c"), "fader 1", "fader").Do(Titled("d"), "fader 2", "fader");
        Assert.Equal(["fader 2", "b"], history.Words);
        Assert.Equal("b", history.Undo().Current.Title);
        Assert.Equal("d", history.Undo().Redo().Current.Title);
    }

    [Fact]
    public void TwoGesturesOfOneNameAreTwoSteps()
    {
        EditHistory history = Start.Do(Titled("c"), "first", "fader").EndGesture().Do(Titled("d"), "second", "fader");
        Assert.Equal("c", history.Undo().Current.Title);
    }

    [Fact]
    public void TheHistoryDoesAsAListOfStatesWould() => Gen.Int[0, 3].Array[0, 40].Sample(moves =>
    {
        EditHistory history = Start;
        List<string> states = [ExampleAlbum.Album.Title];
        int now = 0;
        foreach (int move in moves)
        {
            switch (move)
            {
                case 0:
                    history = history.Undo();
                    now = Math.Max(0, now - 1);
                    break;
                case 1:
                    history = history.Redo();
                    now = Math.Min(states.Count - 1, now + 1);
                    break;
                default:
                    string title = $"{states.Count}-{move}";
                    history = history.Do(Titled(title), title);
                    states = [.. states.Take(now + 1), title];
                    now++;
                    break;
            }

            Assert.Equal(states[now], history.Current.Title);
            Assert.Equal(now == 0, history.UndoWords is null);
            Assert.Equal(now == states.Count - 1, history.RedoWords is null);
        }
    });

    private static Album Titled(string title) => ExampleAlbum.Album with { Title = title };
}
