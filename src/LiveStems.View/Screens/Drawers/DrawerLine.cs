using LiveStems.View.Controls;

namespace LiveStems.View.Screens.Drawers;

/// <summary>A line of a drawer.</summary>
/// <param name="Words">What it says.</param>
/// <param name="Aside">A figure or a time at its right.</param>
/// <param name="Detail">More about it, smaller, below.</param>
internal sealed record DrawerLine(string Words, string Aside = "", string Detail = "")
{
    public Tone Tone { get; init; } = Tone.Text;

    /// <summary>What it is about, by which it is known again when it stands elsewhere and says other words; null where its words tell.</summary>
    public object? About { get; init; }

    /// <summary>True for a heading between lines.</summary>
    public bool IsHeading { get; init; }

    /// <summary>For what can be on or off: which it is.</summary>
    public bool? IsOn { get; init; }

    /// <summary>What Enter and a press do; null, or one line that says why not.</summary>
    public Func<string?>? Act { get; init; }

    /// <summary>What Delete does.</summary>
    public Func<string?>? Remove { get; init; }

    /// <summary>What Alt with up (−1) and down (1) does: moves it among its like.</summary>
    public Func<int, string?>? Move { get; init; }

    public static DrawerLine Heading(string words, string aside = "") => new(words, aside) { IsHeading = true };
}

/// <summary>Something to press in a drawer.</summary>
/// <param name="Words">What it says now.</param>
/// <param name="Press">What it does; null when done, or one line that says why not.</param>
/// <param name="Tip">A sentence that teaches what it is for.</param>
internal sealed record DrawerButton(Func<string> Words, Func<string?> Press, string Tip)
{
    public Func<bool>? IsOn { get; init; }
}

/// <summary>A field for words at the foot of a drawer.</summary>
/// <param name="Hint">What to type.</param>
/// <param name="Accept">Takes it; null when taken, or one line that says what would be right.</param>
internal sealed record DrawerEntry(Func<string> Hint, Func<string, string?> Accept);
