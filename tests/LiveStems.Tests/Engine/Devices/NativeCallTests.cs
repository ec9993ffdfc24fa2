using System.Reflection;
using LiveStems.Engine.Devices;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class NativeCallTests
{
    [Fact]
    public void OnlyDevicesCallNativeFunctions()
    {
        const BindingFlags All = BindingFlags.Static | BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly;
        List<Type> callers = [.. typeof(IAudioDevice).Assembly.GetTypes()
            .Where(type => type.GetMethods(All).Any(method => method.Attributes.HasFlag(MethodAttributes.PinvokeImpl)))];
        Assert.NotEmpty(callers);
        Assert.All(callers, type => Assert.StartsWith("LiveStems.Engine.Devices.", type.FullName));
    }
}
