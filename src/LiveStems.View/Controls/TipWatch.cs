namespace LiveStems.View.Controls;

/// <summary>Shows the sentence that teaches what a control is for, once the pointer has rested on it.</summary>
internal sealed class TipWatch
{
    private const double RestSeconds = 0.6;

    private double restSince;

    /// <summary>The sentence that is shown, or null.</summary>
    public string? Words { get; private set; }

    /// <summary>Where it stands.</summary>
    public Box Place { get; private set; }

    /// <summary>Something was moved, pressed or typed: hides the sentence; true when one was shown.</summary>
    public bool Hide(double now)
    {
        restSince = now;
        bool wasShown = Words is not null;
        Words = null;
        return wasShown;
    }

    /// <summary>Shows the sentence of what is under the pointer when it has rested long enough; true when it has just come.</summary>
    public bool Look(Control? under, (float X, float Y) pointer, double now, ITextRuler ruler, Extent window)
    {
        if (Words is not null || now - restSince <= RestSeconds)
        {
            return false;
        }

        while (under is not null && under.Tip.Length == 0)
        {
            under = under.Parent;
        }

        if (under is null)
        {
            return false;
        }

        Words = under.Tip;
        Place = TipBubble.Around(ruler, Words, pointer, window);
        return true;
    }

    public void Draw(Painter painter)
    {
        if (Words is { } words)
        {
            TipBubble.Draw(painter, words, Place);
        }
    }
}
