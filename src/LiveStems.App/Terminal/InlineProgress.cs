namespace LiveStems.App.Terminal;

/// <summary>Progress that is told on the spot, on the thread that makes it.</summary>
internal sealed class InlineProgress<T>(Action<T> report) : IProgress<T>
{
    public void Report(T value) => report(value);
}
