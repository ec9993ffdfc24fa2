using System.Diagnostics.CodeAnalysis;

namespace LiveStems.Engine.Hosting;

/// <summary>Ends a thread that has come back from a processor after another thread took its work over.</summary>
[SuppressMessage("Design", "CA1032:Implement standard exception constructors", Justification = "made once, here")]
internal sealed class LostThreadException : Exception
{
    private LostThreadException()
        : base("another thread renders by now")
    {
    }

    /// <summary>Does not return.</summary>
    [DoesNotReturn]
    public static void End() => throw new LostThreadException();
}
