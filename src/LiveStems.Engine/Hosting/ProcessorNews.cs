namespace LiveStems.Engine.Hosting;

/// <summary>What has happened in the processors folder, in words.</summary>
/// <param name="Words">The words.</param>
/// <param name="Command">With what a terminal answers it; null where nothing is asked.</param>
public sealed record ProcessorNews(string Words, string? Command = null)
{
    /// <summary>The words, with the command where there is one.</summary>
    public override string ToString() => Command is null ? Words : $"{Words}: {Command}";
}
