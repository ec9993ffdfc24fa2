using LiveStems.View.Controls;

namespace LiveStems.Tests.View.Controls;

/// <summary>Every character is as wide as the next, so that layouts need no fonts.</summary>
internal sealed class FixedRuler : ITextRuler
{
    public const float CharacterUnits = 6;

    public float Width(string text, Lettering lettering) => text.Length * CharacterUnits;

    public float LineHeight(Lettering lettering) => 15;
}
