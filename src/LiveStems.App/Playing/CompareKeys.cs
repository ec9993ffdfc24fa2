using LiveStems.Engine.Comparing;

namespace LiveStems.App.Playing;

/// <summary>The keys for comparing and for the blind test.</summary>
internal static class CompareKeys
{
    private const string HarmlessLetters = "iol,.d-+=<>qr";

    private static readonly ConsoleKey[] HarmlessKeys = [ConsoleKey.Spacebar, ConsoleKey.LeftArrow, ConsoleKey.RightArrow, ConsoleKey.Home, ConsoleKey.Escape];

    /// <summary>The keys, for the player's table.</summary>
    public static IEnumerable<(string Name, Func<ConsoleKeyInfo, bool> Fits, string Does, Action<ConsoleKeyInfo> Do)> Table(PlayControls controls) =>
    [
        ("c, v", key => key.KeyChar == 'c', "compare: in, out; compare something else", _ => controls.Compare.ToggleSide()),
        (string.Empty, key => key.KeyChar == 'v', string.Empty, _ => controls.Compare.NextScope()),
        ("e, j, g", key => key.KeyChar == 'e', "difference; alone or in the song; fair gain", _ => controls.Compare.ToggleDifference()),
        (string.Empty, key => key.KeyChar == 'j', string.Empty, _ => controls.Compare.ToggleAlone()),
        (string.Empty, key => key.KeyChar == 'g', string.Empty, _ => controls.Compare.ToggleFair()),
        ("D, P, B, S", key => key.KeyChar == 'D', "of a parallel: dry, parallel, both, both in the song", _ => controls.Compare.HearParallel(CompareSide.In, isInSong: false)),
        (string.Empty, key => key.KeyChar == 'P', string.Empty, _ => controls.Compare.HearParallel(CompareSide.Difference, isInSong: false)),
        (string.Empty, key => key.KeyChar == 'B', string.Empty, _ => controls.Compare.HearParallel(CompareSide.Out, isInSong: false)),
        (string.Empty, key => key.KeyChar == 'S', string.Empty, _ => controls.Compare.HearParallel(CompareSide.Out, isInSong: true)),
        ("N", key => key.KeyChar == 'N', "next parallel of the stem", _ => controls.Compare.NextParallel()),
        ("r", key => key.KeyChar == 'r', "blind test", _ => controls.Blind.Toggle()),
    ];

    /// <summary>True for keys that neither change the song nor give a side away while a blind test runs.</summary>
    public static bool IsHarmless(ConsoleKeyInfo key) => HarmlessKeys.Contains(key.Key) || (key.KeyChar != '\0' && HarmlessLetters.Contains(key.KeyChar));
}
